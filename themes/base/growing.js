/* Boxes for text grow by whole rows with what stands in them, up to about half the screen. */
"use strict";

/* `share` of the screen's height is the most; of a text that is only read there is no most, so that
   the page scrolls and not the box. */
function grow(field, share = 0.5) {
  const style = getComputedStyle(field);
  const row = parseFloat(style.lineHeight);
  if (!field.offsetParent || !row) return;
  field.classList.remove("full");
  field.style.height = "auto";
  const padding = parseFloat(style.paddingTop) + parseFloat(style.paddingBottom);
  const needed = Math.max(field.rows, Math.ceil((field.scrollHeight - padding) / row - 0.2));
  const most = Math.max(field.rows, Math.floor((window.innerHeight * share) / row));
  const full = needed > most;
  field.classList.toggle("full", full); /* without padding, in which a row would show by half */
  const border = field.offsetHeight - field.clientHeight;
  const rows = full ? Math.floor(most) * row : needed * row + padding;
  field.style.height = Math.ceil(rows + border) + "px";
}

["input", "focusin"].forEach((happens) =>
  document.addEventListener(happens, ({ target }) => {
    if (target instanceof HTMLTextAreaElement && !target.readOnly) grow(target);
  })
);
