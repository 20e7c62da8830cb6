/* The answer: from what was marked and written to a slip, and from the slip to mail, clipboard,
   file or paper. */
"use strict";

const form = one("#answer-form");
const result = one("#slip-result");
const slip = one("#slip-text");
const note = one("#answer-note");
const LONGEST_NOTE = 4000; /* letters */
const KEPT = ["answer", "note", "name", "print", "show"];

const chosen = () => new FormData(form).get("answer") || "";

/* The remarks: what was written beside pictures, and then the note. */
const remarks = () => [...whysSaid(), note.value.trim()].filter(Boolean).join("\n").replace(/\r\n?/g, "\n");

/* What the slip carries; it leaves out what is empty. */
function filledIn() {
  const given = new FormData(form);
  return {
    v: 2,
    answer: chosen(),
    changes: changesWanted().map(({ text, now }) => ({
      line: text.line, new: now, old: text.text, pieces: text.pieces, slot: text.slot,
    })),
    edition: facts.edition,
    marked: chosen() === "ok" && unread().length ? [facts.texts.length - unread().length, facts.texts.length] : null,
    name: limited(given.get("name"), 200),
    note: limited(remarks(), LONGEST_NOTE),
    order: facts.order,
    print: given.has("print") || null,
    show: given.has("show") || null,
    time: new Date().toISOString().slice(0, 19) + "Z",
    wrong: draft.wrong,
  };
}

const markedWrong = () => changesWanted().length > 0 || draft.wrong.length > 0;

/* What is still missing: a sentence and the field it speaks of. */
function missing(filled) {
  const unsaid = changesWanted().find((change) => !change.now);
  if (unsaid) return [says.how_it_reads, "#" + unsaid.text.id + "-now"];
  if (!filled.answer) return [says.choose, "#answer-form [name=answer]"];
  if (filled.answer === "change" && !filled.note) {
    if (draft.wrong.length) return [says.what_is_wrong, "#" + whyOf(unsaidPicture()).id];
    if (!markedWrong()) return [says.what_to_change, "#answer-note"];
  }
  if (wellFormed(remarks()).length > LONGEST_NOTE) return [say("too_long", { n: LONGEST_NOTE }), "#answer-note"];
  if (!filled.name) return [says.your_name, "#answer-name"];
  return null;
}

/* Whether a note holds a word by which people ask for a change. */
function soundsLikeChange(text) {
  const words = says.changing_words.toLocaleLowerCase().split(/[,،]/).map((word) => word.trim());
  const written = " " + text.toLocaleLowerCase().replace(/[^\p{L}\p{M}\p{N}]+/gu, " ") + " ";
  return words.some((word) => word && written.includes(" " + word + " "));
}

function complain(problem) {
  all("[aria-invalid]").forEach((field) => field.removeAttribute("aria-invalid"));
  one("#answer-trouble").textContent = problem ? problem[0] : "";
  if (!problem) return;
  const field = one(problem[1]);
  const row = field.closest(".word");
  field.setAttribute("aria-invalid", "true");
  if (row && row.hidden) nextUnread();
  if (row) goTo(row);
  field.focus();
}

/* The list of what is wrong, and what the choice of “Yes” does beside it. */
function tellMarks() {
  const holder = one("#marked ul");
  holder.textContent = "";
  for (const { text, now } of changesWanted()) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    item.textContent = say("was_is", { of: one("#" + text.id + " .of").textContent, old: text.text, new: now || "…" }) + " ";
    link.href = "#" + text.id;
    link.textContent = says.show_it;
    item.append(link);
    holder.append(item);
  }
  if (draft.wrong.length) {
    const item = document.createElement("li");
    const whole = draft.wrong.length === facts.pieces;
    item.textContent = whole ? says.picture_wrong : say("piece_wrong", { piece: draft.wrong.join(", ") });
    if (whysSaid().length) item.textContent += " – " + whysSaid().join("; ");
    holder.append(item);
  }
  one("#marked").hidden = !markedWrong();
  const refused = markedWrong() && chosen() === "ok";
  one("#ask-marked").hidden = !refused;
  one("#answer-form [type=submit]").disabled = refused;
  const left = unread().length;
  one("#unread").hidden = !left || chosen() !== "ok" || !one("#ask-unread").hidden;
  one("#unread span").textContent = left;
}

function showNote() {
  const label = one("label[for=answer-note]");
  one(".note", form).hidden = !chosen();
  label.textContent = label.dataset[chosen() === "ok" ? "ok" : markedWrong() && !unsaidPicture() ? "more" : "change"];
}

function keepFields() {
  const given = new FormData(form);
  draft.fields = {};
  KEPT.forEach((name) => {
    if (given.get(name)) draft.fields[name] = given.get(name);
  });
  changed();
}

function fillFields() {
  KEPT.forEach((name) => {
    const value = draft.fields[name];
    if (value === undefined) return;
    all("[name=" + name + "]", form).forEach((field) => {
      if (field.type === "radio") field.checked = field.value === value;
      else if (field.type === "checkbox") field.checked = true;
      else field.value = value;
    });
  });
}

function choose(answer) {
  one("#answer-" + answer).checked = true;
  keepFields();
}

const subjectOf = (text) => text.split("\n", 1)[0];

async function offer(filled) {
  draft.prepared = filled;
  one("#kept").hidden = !remember(draftKey, draft);
  await show(filled);
  one("#slip-heading").focus();
}

/* All that was written is told wherever there is room: in a long mail's link there is not. */
async function show(filled) {
  const composed = (whole) =>
    composeSlip(filled, facts.words, facts.key, facts.fingerprint, facts.pieces, whole, facts.given_for);
  slip.value = await composed(true);
  one("#slip-paper").textContent = slip.value;
  showWays("slip", facts.mail, subjectOf(slip.value), [slip.value, await composed(false)], facts.words.paste);
  one("#slip-note").textContent = "";
  result.hidden = false;
  grow(slip, Infinity);
  one("#prepared").hidden = true;
}

function copySlip() {
  copyText(slip, one("#slip-note"), says);
}

function saveSlip() {
  saveText(slip.value, "answer-" + facts.order + "-proof-" + facts.edition + ".txt", one("#slip-note"), says);
}

function submitted(event) {
  event.preventDefault();
  const filled = filledIn();
  const problem = missing(filled);
  complain(problem);
  result.hidden = true;
  if (problem || one("#answer-form [type=submit]").disabled) return;
  const doubtful = filled.answer === "ok" && filled.note && soundsLikeChange(filled.note);
  one("#ask-note").hidden = !doubtful;
  if (doubtful) one("#note-change").focus();
  else askUnread(filled);
}

let readAll = false; /* whether she was asked: once is enough */

/* A hurried “Yes” is asked about names without a mark. */
function askUnread(filled) {
  const asks = filled.answer === "ok" && unread().length > 0 && !readAll;
  one("#ask-unread").hidden = !asks;
  one("#unread").hidden = asks || one("#unread").hidden;
  if (!asks) return offer(filled);
  readAll = true;
  one("#ask-unread p").textContent = say("unread", { n: unread().length });
  one("#unread-read").focus();
}

/* Whatever is marked or written: a slip never says other than what stands on the page, and what
   was heeded is complained of no more. */
function takenBack() {
  result.hidden = true;
  if (draft.prepared) {
    delete draft.prepared;
    one("#prepared").hidden = true;
    remember(draftKey, draft);
  }
  one("#ask-note").hidden = true;
  one("#ask-unread").hidden = true;
  const told = one("#answer-trouble").textContent;
  const problem = told && missing(filledIn());
  const isSame = problem && problem[0] === told && one(problem[1]).matches("[aria-invalid]");
  if (told && !isSame) complain(null);
}

listeners.push(takenBack, showNote, tellMarks, (kept) => {
  one("#kept").hidden = !kept;
});
form.addEventListener("submit", submitted);
form.addEventListener("input", () => {
  keepFields();
});
one("#marked-change").addEventListener("click", () => {
  choose("change");
  one("#answer-change").focus();
});
one("#marked-clear").addEventListener("click", () => {
  changesWanted().forEach(({ text }) => {
    draft.texts[text.id] = { right: true };
  });
  draft.wrong = [];
  showMarks();
  changed();
  one("#answer-ok").focus();
});
one("#note-change").addEventListener("click", () => {
  choose("change");
  note.focus();
});
one("#note-keep").addEventListener("click", () => {
  one("#ask-note").hidden = true;
  askUnread(filledIn());
});
one("#unread-read").addEventListener("click", () => {
  one("#ask-unread").hidden = true;
  offer(filledIn());
});
one("#unread-show").addEventListener("click", () => {
  one("#ask-unread").hidden = true;
  tellMarks();
  nextUnread();
});
one("#unread-next").addEventListener("click", nextUnread);
one("#forget-draft").addEventListener("click", () => {
  forgetDrafts();
  location.reload();
});
one("#slip-share").addEventListener("click", () => shareText(subjectOf(slip.value), slip.value));
one("#slip-take").addEventListener("click", () => copyText(slip, one("#slip-took"), says));
one("#slip-copy").addEventListener("click", copySlip);
one("#slip-save").addEventListener("click", saveSlip);
one("#slip-print").addEventListener("click", () => {
  document.body.classList.add("print-slip");
  window.print();
  document.body.classList.remove("print-slip");
});

/* After a reload: what was prepared on this device for this very proof, as it was. */
function tellPrepared(filled) {
  const day = new Date(filled.time);
  const two = (n) => String(n).padStart(2, "0");
  const date = day.getFullYear() + "-" + two(day.getMonth() + 1) + "-" + two(day.getDate());
  one("#prepared p").textContent = say("prepared_" + filled.answer, { day: dayIn(date, facts.dates) });
  one("#prepared").hidden = false;
}

one("#prepared-show").addEventListener("click", async () => {
  await show(draft.prepared);
  one("#slip-heading").focus();
});

/* Whether an answer still counts: the page may be late, or what it shows be settled. Where an answer
   came in time, what became of it stands at the top, and the last day no longer matters. */
const late = outOfDate(one("#too-late"));
const closed = Boolean(one(".standing[data-closed]"));
const answered = Boolean(one("#standing .standing"));
one("#too-late").hidden = !late || answered;
one("#answer .by").hidden = late;
one("#late-answer").hidden = !late || closed;
one("#answer .open").hidden = late;
one("#answer-anyway").addEventListener("click", () => {
  one("#late-answer").hidden = true;
  one("#answer .open").hidden = false;
});
form.hidden = closed;
fillFields();
showNote();
tellMarks();
one("#kept").hidden = !recall(draftKey);
if (draft.prepared && !closed) tellPrepared(draft.prepared);
