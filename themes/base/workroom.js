/* The maker's pages: a command is copied, orders are looked for. The words stand in the page. */
"use strict";

(function () {
  const says = document.querySelector("main").dataset;

  function marked(code) {
    const range = document.createRange();
    range.selectNodeContents(code);
    const selection = window.getSelection();
    selection.removeAllRanges();
    selection.addRange(range);
  }

  /* Where a page may not write to the clipboard by itself: mark the line and ask the old way. */
  function theOldWay(code) {
    marked(code);
    try {
      return document.execCommand("copy");
    } catch (error) {
      return false;
    }
  }

  document.querySelectorAll(".typed").forEach(function (typed) {
    const code = typed.querySelector("code");
    const button = typed.querySelector("button");
    const words = button.textContent;

    function told(done) {
      button.textContent = done ? says.copied : says.select;
      setTimeout(function () {
        button.textContent = words;
      }, 4000);
    }

    button.hidden = false;
    button.setAttribute("aria-live", "polite");
    button.addEventListener("click", function () {
      if (!navigator.clipboard) {
        told(theOldWay(code));
        return;
      }
      navigator.clipboard.writeText(code.textContent).then(
        function () {
          told(true);
        },
        function () {
          told(theOldWay(code));
        }
      );
    });
  });

  const search = document.querySelector(".search");
  if (!search) return;
  const input = search.querySelector("input");
  const found = search.querySelector("p");
  const orders = Array.from(document.querySelectorAll(".order"));

  function look() {
    const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    orders.forEach(function (order) {
      const text = order.querySelector(".told").textContent.toLowerCase();
      order.hidden = !words.every(function (word) {
        return text.includes(word);
      });
      shown += order.hidden ? 0 : 1;
    });
    document.querySelectorAll("main > section").forEach(function (section) {
      section.hidden = !section.querySelector(".order:not([hidden])");
    });
    found.textContent = words.length ? search.dataset.shown.replace("%d", shown) : "";
  }

  search.hidden = false;
  input.addEventListener("input", look);
  look();
})();
