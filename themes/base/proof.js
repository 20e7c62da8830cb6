/* The proof page come alive: turning, swapping, measuring, counting. */
"use strict";

const facts = JSON.parse(document.querySelector("#proof-facts").textContent);
const says = JSON.parse(document.querySelector("#proof-says").textContent);
const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
const one = (selector, root) => (root || document).querySelector(selector);

/* A sentence of the page with its {places} filled. */
function say(sentence, places) {
  return says[sentence].replace(/\{(\w+)\}/g, (whole, place) => (place in places ? places[place] : whole));
}

/* Views in the round: buttons, arrow keys, a finger or a mouse. Between two sides the thing is drawn
   (turntable.js); where that cannot be, the sides change places. */
function turning(round, index) {
  const stage = one(".stage img", round);
  const holder = one(".stage", round);
  const said = one(".stage-label", round);
  const stills = all(".stills img", round);
  if (stills.length < 2) return;
  const first = stills[0].getAttribute("src");
  const sharper = stage.getAttribute("srcset");
  const side = (quarters) => ((quarters % stills.length) + stills.length) % stills.length;
  const canvas = document.createElement("canvas");
  canvas.hidden = true;
  canvas.setAttribute("aria-hidden", "true"); /* the picture below it has the words */
  stage.after(canvas);
  let at = -1; /* the side that is told */
  let seen = 0; /* what is seen, in quarters, never brought back to the first four */
  let goal = 0;
  let running = false;
  let draw; /* not yet known, or null: not to be had */
  function show(next) {
    if (side(next) === at) return;
    at = side(next);
    /* of the front alone there is one with more pixels */
    if (sharper && stills[at].getAttribute("src") === first) stage.setAttribute("srcset", sharper);
    else stage.removeAttribute("srcset");
    for (const name of ["src", "alt", "width", "height"]) {
      stage.setAttribute(name, stills[at].getAttribute(name));
    }
    said.textContent = stills[at].closest("figure").querySelector("figcaption").textContent;
    stills.forEach((still, i) => still.closest("li").classList.toggle("shown", i === at));
  }
  function turns() {
    const turn = facts.rounds && facts.rounds[index];
    if (draw === undefined && turn && stills.length === 4) {
      stills.forEach((still) => still.setAttribute("loading", "eager"));
      if (!stills.every((still) => still.complete && still.naturalWidth === turn.width)) return false;
      draw = turntable(turn, stills, canvas);
    }
    return Boolean(draw);
  }
  function paint() {
    draw(seen * QUARTER);
    canvas.hidden = false;
  }
  function rest() {
    running = false;
    seen = goal;
    const ended = () => {
      if (!running && seen === goal && goal % 1 === 0) canvas.hidden = true;
    };
    stage.decode().then(ended, ended);
  }
  function run() {
    if (running) return;
    running = true;
    let before = null;
    function step(now) {
      if (!running) return;
      seen += (goal - seen) * (before === null ? 0 : 1 - Math.exp((before - now) / 110));
      before = now;
      if (Math.abs(goal - seen) < 0.004) {
        rest();
        return;
      }
      paint();
      window.requestAnimationFrame(step);
    }
    window.requestAnimationFrame(step);
  }
  function turnTo(next) {
    goal = next;
    show(next);
    if (turns() && !window.matchMedia("(prefers-reduced-motion: reduce)").matches) run();
    else rest();
  }
  const on = () => turnTo(Math.floor(goal + 1.001)); /* from where it was let go, to the next side */
  const back = () => turnTo(Math.ceil(goal - 1.001));
  one(".turns", round).hidden = false;
  one(".turn-back", round).addEventListener("click", back);
  one(".turn-on", round).addEventListener("click", on);
  stills.forEach((still, i) =>
    still.addEventListener("click", () => {
      const way = side(i - Math.round(goal)); /* the shorter one */
      turnTo(Math.round(goal) + (way > stills.length / 2 ? way - stills.length : way));
    })
  );
  holder.tabIndex = 0;
  holder.setAttribute("aria-label", holder.dataset.says);
  stage.draggable = false; /* else a swipe with a mouse would carry the picture off */
  holder.addEventListener("pointerenter", turns);
  holder.addEventListener("focus", turns);
  holder.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: back, ArrowRight: on }[event.key];
    if (!by) return;
    event.preventDefault();
    by();
  });
  let start = null;
  stage.addEventListener("pointerdown", (event) => {
    start = { x: event.clientX, seen, turns: turns() };
    running = false; /* it stays where it was caught */
    stage.setPointerCapture(event.pointerId);
  });
  stage.addEventListener("pointermove", (event) => {
    if (start === null || !start.turns) return;
    const radius = (facts.rounds[index].radius * stage.clientWidth) / canvas.width;
    seen = start.seen - (event.clientX - start.x) / radius / QUARTER;
    goal = seen;
    show(Math.round(seen));
    paint();
  });
  function letGo(event) {
    const begun = start;
    start = null;
    if (begun === null) return;
    const moved = event.clientX - begun.x;
    if (begun.turns) {
      goal = seen;
      show(Math.round(seen));
      if (Math.abs(seen - Math.round(seen)) < 0.08) turnTo(Math.round(seen));
    } else if (event.type === "pointerup" && Math.abs(moved) > 30) turnTo(goal + (moved < 0 ? 1 : -1));
  }
  stage.addEventListener("pointerup", letGo);
  stage.addEventListener("pointercancel", letGo);
  show(0);
}

/* Ink on white and on the cloth, in one place. */
function swapping(pair) {
  const button = one("button", pair);
  const figures = all("figure", pair);
  if (!button || figures.length !== 2) return;
  let cloth = true;
  function show() {
    figures[0].hidden = cloth;
    figures[1].hidden = !cloth;
    button.textContent = cloth ? button.dataset.white : button.dataset.cloth;
  }
  button.hidden = false;
  button.addEventListener("click", () => {
    cloth = !cloth;
    show();
  });
  pair.classList.add("swaps");
  show();
}

/* Real size: the screen's millimetre is put right by hand, against a card, once for each device. */
function measuring(section) {
  const drawings = all("svg.to-scale", section);
  const sizes = drawings.map((d) => [parseFloat(d.getAttribute("width")), parseFloat(d.getAttribute("height"))]);
  const slider = one("#scale", section);
  const key = "proof-real-size";
  function fits() {
    const room = one(".real", section).clientWidth;
    const seen = drawings.filter((d) => d.getClientRects().length);
    const card = seen.find((d) => d.classList.contains("card")).getBoundingClientRect();
    const said = [];
    if (card.width > room) said.push(says.card_too_large);
    else if (card.height > window.innerHeight) said.push(says.card_width_fits);
    else said.push(says.card_fits);
    if (seen.some((d) => !d.classList.contains("card") && d.getBoundingClientRect().width > room)) {
      said.push(says.picture_too_large);
    }
    one(".scale-says", section).textContent = said.join(" ");
  }
  function show() {
    drawings.forEach((drawing, i) => {
      drawing.setAttribute("width", (sizes[i][0] * slider.value) / 100 + "mm");
      drawing.setAttribute("height", (sizes[i][1] * slider.value) / 100 + "mm");
    });
    one(".scale-now", section).textContent = say("percent", { n: slider.value });
    fits();
  }
  const known = Number(recall(key));
  if (known) slider.value = known;
  one(".scale", section).hidden = false;
  one(".scale-says", section).hidden = false;
  slider.addEventListener("input", () => {
    show();
    remember(key, Number(slider.value));
  });
  window.addEventListener("resize", fits);
  show();
}

/* The day of this device, as files write it; of a demonstration the one it stands at. */
function today() {
  if (facts.today) return facts.today;
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

/* A page that is opened after its last day says so, and on it too. */
const outOfDate = (banner) => today() > banner.dataset.after;
all(".today").forEach((said) => {
  said.hidden = said.dataset.day !== today();
});

all(".round").forEach(turning);
all(".pair").forEach(swapping);
all("#real-size").forEach(measuring);
