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

/* What this device remembers; a browser that keeps nothing forgets it, and all else works. */
function recall(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch (error) {
    return null;
  }
}

function remember(key, value) {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch (error) {
    return false;
  }
}

/* Views in the round: buttons, arrow keys, swipe. */
function turning(round) {
  const stage = one(".stage img", round);
  const said = one(".stage-label", round);
  const stills = all(".stills img", round);
  if (stills.length < 2) return;
  let at = 0;
  function show(next) {
    at = (next + stills.length) % stills.length;
    for (const name of ["src", "alt", "width", "height"]) {
      stage.setAttribute(name, stills[at].getAttribute(name));
    }
    said.textContent = stills[at].closest("figure").querySelector("figcaption").textContent;
    stills.forEach((still, i) => still.closest("li").classList.toggle("shown", i === at));
  }
  one(".turns", round).hidden = false;
  one(".turn-back", round).addEventListener("click", () => show(at - 1));
  one(".turn-on", round).addEventListener("click", () => show(at + 1));
  stills.forEach((still, i) => still.addEventListener("click", () => show(i)));
  const holder = one(".stage", round);
  holder.tabIndex = 0;
  holder.setAttribute("aria-label", holder.dataset.says);
  stage.draggable = false; /* else a swipe with a mouse would carry the picture off */
  holder.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!by) return;
    event.preventDefault();
    show(at + by);
  });
  let start = null;
  holder.addEventListener("pointerdown", (event) => {
    start = event.clientX;
  });
  holder.addEventListener("pointerup", (event) => {
    const moved = start === null ? 0 : event.clientX - start;
    start = null;
    if (Math.abs(moved) > 30) show(at + (moved < 0 ? 1 : -1));
  });
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

/* A page that is opened after its last day says so; the day is that of this device. */
function outOfDate(banner) {
  const now = new Date();
  const today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
  return today > banner.dataset.after;
}

all(".round").forEach(turning);
all(".pair").forEach(swapping);
all("#real-size").forEach(measuring);
