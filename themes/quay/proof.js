/* The proof page come alive: turning, swapping, measuring, counting. */
"use strict";

const facts = JSON.parse(document.querySelector("#proof-facts").textContent);
const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
const one = (selector, root) => (root || document).querySelector(selector);

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
  const holder = one(".stage", round);
  holder.tabIndex = 0;
  holder.setAttribute("aria-label", "In the round: the left and right arrow keys turn it");
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

/* Real size: the screen's millimetre is put right by hand, against a card. */
function measuring(section) {
  const drawings = all("svg.to-scale", section);
  const sizes = drawings.map((d) => [parseFloat(d.getAttribute("width")), parseFloat(d.getAttribute("height"))]);
  const said = one(".scale-now", section);
  let percent = 100;
  function show(by) {
    percent = Math.min(200, Math.max(50, percent + by));
    drawings.forEach((drawing, i) => {
      drawing.setAttribute("width", (sizes[i][0] * percent) / 100 + "mm");
      drawing.setAttribute("height", (sizes[i][1] * percent) / 100 + "mm");
    });
    said.textContent = percent === 100 ? "" : percent + " %";
  }
  one(".scale", section).hidden = false;
  all("button[data-by]", section).forEach((button) => {
    button.addEventListener("click", () => show(Number(button.dataset.by)));
  });
}

/* How many words have been read. */
function counting(section) {
  const boxes = all("input[type=checkbox]", section);
  const said = one(".read-so-far", section);
  function show() {
    const done = boxes.filter((box) => box.checked).length;
    said.textContent = done === boxes.length ? "All read." : done + " of " + boxes.length + " read.";
  }
  boxes.forEach((box) => box.addEventListener("change", show));
  said.hidden = false;
  show();
}

all(".round").forEach(turning);
all(".pair").forEach(swapping);
all("#real-size").forEach(measuring);
all("#words").forEach(counting);
