/* What the customer marked and wrote so far. It is kept on this device, for this artwork alone. */
"use strict";

const draftOf = "proof-draft/" + facts.order + "/";
/* 2: a text's place in the list is its piece's own since then. */
const draftKey = draftOf + facts.edition + "/" + facts.fingerprint.slice(0, 16) + "/2";

/* texts: by their id {right: true} or {now: "how it should read"}; wrong: numbers of pieces;
   why: by a picture's pieces {of: "its name", said: "what is wrong with it"}. */
const draft = Object.assign({ texts: {}, wrong: [], why: {}, fields: {} }, recall(draftKey));
const listeners = [];

function forgetDrafts() {
  try {
    Object.keys(localStorage)
      .filter((key) => key.startsWith(draftOf))
      .forEach((key) => localStorage.removeItem(key));
  } catch (error) {
    /* nothing was kept */
  }
}

function changed() {
  const kept = remember(draftKey, draft);
  listeners.forEach((tell) => tell(kept));
}

/* Texts marked as wrong, as the slip tells them; those without new words yet have now === "". */
function changesWanted() {
  return facts.texts
    .filter((text) => draft.texts[text.id] && !draft.texts[text.id].right)
    .map((text) => ({ text, now: cleaned(draft.texts[text.id].now, text.text) }));
}

/* What was typed; "" while it is still what stands there. */
function cleaned(typed, old) {
  const now = limited(typed || "", 400);
  return now === old ? "" : now;
}

if (!recall(draftKey)) forgetDrafts(); /* those of the proofs before this one */
