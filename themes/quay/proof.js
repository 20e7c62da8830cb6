/* The proof page come alive: turning, swapping, measuring, counting, answering. */
"use strict";

(function () {
  const facts = JSON.parse(document.getElementById("proof-facts").textContent);
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

  /* The answer: fields to slip, slip to mail, clipboard, file or paper. */
  const form = document.getElementById("answer-form");
  const result = document.getElementById("slip-result");
  const text = document.getElementById("slip-text");
  const trouble = document.getElementById("answer-trouble");
  const note = document.getElementById("slip-note");
  const mail = document.getElementById("slip-mail");

  function payload() {
    const given = new FormData(form);
    return {
      answer: given.get("answer") || "",
      edition: facts.edition,
      fingerprint: facts.fingerprint,
      may_show: given.get("may_show") === "yes",
      name: wellFormed(given.get("name").trim()).slice(0, 200),
      order: facts.order,
      remarks: wellFormed(given.get("remarks").replace(/\r\n?/g, "\n").trim()).slice(0, 4000),
      ticks: given.getAll("ticks").sort(),
      time: new Date().toISOString().slice(0, 19) + "Z",
      wrong: pieceNumbers(given.get("wrong") || ""),
    };
  }

  /* What is still missing: a sentence and the field it speaks of. */
  function missing(filled) {
    if (!filled.answer) return ["Please choose one of the three answers.", "#answer-ok"];
    if (!filled.name) return ["Please write your name.", "#answer-name"];
    const unknown = filled.wrong.find((n) => n < 1 || n > facts.pieces);
    if (unknown !== undefined) {
      return ["The pieces are numbered 1 to " + facts.pieces + "; " + unknown + " is not among them.", "#answer-wrong"];
    }
    if (filled.answer !== "ok" && !filled.remarks && !filled.wrong.length) {
      return ["Please write what we should change.", "#answer-remarks"];
    }
    if (filled.answer === "ok" && filled.wrong.length) {
      return [
        "You marked pieces as wrong, and chose that all is right. Please choose the second answer, or empty that field.",
        "#answer-wrong",
      ];
    }
    return null;
  }

  function offer(filled) {
    text.value = composeSlip(filled, facts.words, facts.key);
    text.rows = Math.min(24, text.value.split("\n").length);
    const subject = text.value.split("\n", 1)[0];
    const link = facts.mail ? mailLink(facts.mail, subject, text.value, 1800) : "";
    mail.hidden = !link;
    if (link) mail.href = link;
    document.getElementById("slip-long").hidden = !facts.mail || Boolean(link);
    document.getElementById("slip-unticked").hidden =
      filled.answer !== "ok" || filled.ticks.length === TICKS.length;
    note.textContent = "";
    result.hidden = false;
    document.getElementById("slip-heading").focus();
  }

  function complain(problem) {
    all("[aria-invalid]", form).forEach((field) => field.removeAttribute("aria-invalid"));
    trouble.textContent = problem ? problem[0] : "";
    if (!problem) return;
    const field = one(problem[1]);
    field.setAttribute("aria-invalid", "true");
    field.focus();
  }

  function copy() {
    const done = () => {
      note.textContent = "Copied.";
    };
    const byHand = () => {
      text.focus();
      text.select();
      const worked = document.execCommand("copy");
      note.textContent = worked ? "Copied." : "Selected: copy it with the keyboard or the menu.";
    };
    if (navigator.clipboard) navigator.clipboard.writeText(text.value).then(done, byHand);
    else byHand();
  }

  function save() {
    const link = document.createElement("a");
    const url = URL.createObjectURL(new Blob([text.value], { type: "text/plain;charset=utf-8" }));
    link.href = url;
    link.download = "answer-" + facts.order + "-proof-" + facts.edition + ".txt";
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 1000);
    note.textContent = "Saved as " + link.download + ".";
  }

  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const filled = payload();
    const problem = missing(filled);
    complain(problem);
    if (problem) result.hidden = true;
    else offer(filled);
  });
  form.addEventListener("input", () => {
    result.hidden = true; /* a slip never says other than what stands in the form */
  });
  document.getElementById("slip-copy").addEventListener("click", copy);
  document.getElementById("slip-save").addEventListener("click", save);
  document.getElementById("slip-print").addEventListener("click", () => {
    document.body.classList.add("print-slip");
    window.print();
    document.body.classList.remove("print-slip");
  });

  all(".round").forEach(turning);
  all(".pair").forEach(swapping);
  all("#real-size").forEach(measuring);
  all("#words").forEach(counting);
})();
