/* A tap on a piece's small picture shows it as large as the screen allows: the same file, so that
   nothing more is loaded. */
"use strict";

function larger(pieces) {
  const dialog = document.createElement("dialog");
  const title = document.createElement("p");
  const shown = document.createElement("div");
  const ways = document.createElement("p");
  let at = 0;
  function show(next) {
    at = (next + pieces.length) % pieces.length;
    const piece = pieces[at];
    title.textContent = say("piece_larger", { piece: one(".number", piece).textContent });
    shown.replaceChildren(...all("figure img", piece).map((img) => img.cloneNode()));
    all("img", shown).forEach((img) => {
      img.loading = "eager";
    });
  }
  function way(sentence, act) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = says[sentence];
    button.addEventListener("click", act);
    ways.append(button);
  }
  dialog.className = "larger";
  title.id = "larger-title";
  title.setAttribute("aria-live", "polite");
  dialog.setAttribute("aria-labelledby", title.id);
  ways.className = "send";
  way("close", () => dialog.close());
  way("piece_before", () => show(at - 1));
  way("piece_after", () => show(at + 1));
  dialog.append(title, shown, ways);
  dialog.addEventListener("click", (event) => {
    if (event.target === dialog) dialog.close(); /* beside it */
  });
  document.body.append(dialog);
  pieces.forEach((piece, i) =>
    all("figure img", piece).forEach((img) => {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "enlarge";
      button.setAttribute("aria-haspopup", "dialog");
      img.replaceWith(button);
      button.append(img);
      button.addEventListener("click", () => {
        show(i);
        dialog.showModal();
      });
    })
  );
}

const eachPiece = all("#pieces [data-pieces]");
if (eachPiece.length && window.HTMLDialogElement) larger(eachPiece);
