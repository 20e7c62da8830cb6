/* The answer: from the form's fields to a slip, and from the slip to mail, clipboard, file or paper. */
"use strict";

const form = one("#answer-form");
const result = one("#slip-result");
const slip = one("#slip-text");
const note = one("#slip-note");

function filledIn() {
  const given = new FormData(form);
  return {
    answer: given.get("answer") || "",
    edition: facts.edition,
    fingerprint: facts.fingerprint,
    may_show: given.get("may_show") === "yes",
    name: limited(given.get("name"), 200),
    order: facts.order,
    remarks: limited(given.get("remarks").replace(/\r\n?/g, "\n"), 4000),
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
  slip.value = composeSlip(filled, facts.words, facts.key);
  slip.rows = Math.min(24, slip.value.split("\n").length);
  const subject = slip.value.split("\n", 1)[0];
  const link = facts.mail ? mailLink(facts.mail, subject, slip.value, 1800) : "";
  one("#slip-mail").hidden = !link;
  if (link) one("#slip-mail").href = link;
  one("#slip-long").hidden = !facts.mail || Boolean(link);
  one("#slip-unticked").hidden =
    filled.answer !== "ok" || filled.ticks.length === TICKS.length;
  note.textContent = "";
  result.hidden = false;
  one("#slip-heading").focus();
}

function complain(problem) {
  all("[aria-invalid]", form).forEach((field) => field.removeAttribute("aria-invalid"));
  one("#answer-trouble").textContent = problem ? problem[0] : "";
  if (!problem) return;
  const field = one(problem[1]);
  field.setAttribute("aria-invalid", "true");
  field.focus();
}

function copySlip() {
  const done = () => {
    note.textContent = "Copied.";
  };
  const byHand = () => {
    slip.focus();
    slip.select();
    const worked = document.execCommand("copy");
    note.textContent = worked ? "Copied." : "Selected: copy it with the keyboard or the menu.";
  };
  if (navigator.clipboard) navigator.clipboard.writeText(slip.value).then(done, byHand);
  else byHand();
}

function saveSlip() {
  const link = document.createElement("a");
  const url = URL.createObjectURL(new Blob([slip.value], { type: "text/plain;charset=utf-8" }));
  link.href = url;
  link.download = "answer-" + facts.order + "-proof-" + facts.edition + ".txt";
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
  note.textContent = "Saved as " + link.download + ".";
}

form.hidden = false;
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const filled = filledIn();
  const problem = missing(filled);
  complain(problem);
  if (problem) result.hidden = true;
  else offer(filled);
});
form.addEventListener("input", () => {
  result.hidden = true; /* a slip never says other than what stands in the form */
});
one("#slip-copy").addEventListener("click", copySlip);
one("#slip-save").addEventListener("click", saveSlip);
one("#slip-print").addEventListener("click", () => {
  document.body.classList.add("print-slip");
  window.print();
  document.body.classList.remove("print-slip");
});
