// Finds designs: what the sentence asks is kept in the address, and what answers it is shown.
(() => {
  const box = document.querySelector(".finder");
  const list = document.querySelector(".mosaic");
  if (!box || !list) return;
  const tiles = [...list.children];
  const by = (name) => document.getElementById(`find-${name}`);
  const wishes = ["fill", "for", "on", "price", "words"].filter((name) => by(name));
  const told = by("told");
  const number = new Intl.NumberFormat(document.documentElement.lang);
  const fold = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const read = new Map(tiles.map((tile) => [tile, {
    fill: tile.dataset.fill.split(" "),
    for: tile.dataset.for.split(" "),
    offers: tile.dataset.on.split(" ").map((one) => one.split("=")),
    words: fold(tile.dataset.words).split(" "),
  }]));

  const typedIn = (wish) => fold(wish.words || "").split(/\s+/).filter(Boolean);
  const has = (tile, typed) => read.get(tile).words.some((word) => word.startsWith(typed));

  const answers = (tile, wish) => {
    const it = read.get(tile);
    const offered = it.offers.some(([piece, price]) =>
      (!wish.on || piece === wish.on) && (!wish.price || Number(price) < Number(wish.price)));
    return offered
      && (!wish.fill || it.fill.includes(wish.fill))
      && (!wish.for || it.for.includes(wish.for));
  };

  const show = () => {
    const wish = Object.fromEntries(wishes.map((name) => [name, by(name).value.trim()]));
    const asked = Object.entries(wish).filter(([, value]) => value);
    const typed = typedIn(wish);
    const open = tiles.filter((tile) => answers(tile, wish));
    const every = open.filter((tile) => typed.every((word) => has(tile, word)));
    // Where no design has them all, those that have one of them: "golden wedding" finds weddings.
    const some = open.filter((tile) => typed.some((word) => word.length > 2 && has(tile, word)));
    const found = every.length ? every : some;
    for (const tile of tiles) tile.hidden = !found.includes(tile);
    list.classList.toggle("mosaic", !asked.length);
    list.classList.toggle("row", asked.length > 0);
    by("all").hidden = !asked.length;
    const said = !asked.length ? "all" : found.length ? "some" : "none";
    const says = told.dataset[said].replace("{n}", number.format(found.length));
    if (told.textContent !== says) told.textContent = says;
    return asked;
  };

  const note = () => {
    const asked = new URLSearchParams(show()).toString();
    history.replaceState(null, "", asked ? `#${asked}` : location.href.split("#")[0]);
  };

  const recall = () => {
    const asked = new URLSearchParams(location.hash.slice(1));
    const known = wishes.some((name) => asked.has(name));
    for (const name of wishes) {
      const field = by(name);
      field.value = asked.get(name) || "";
      if (field.tagName === "SELECT" && field.selectedIndex < 0) field.value = "";
    }
    show();
    return known;
  };

  box.hidden = false;
  box.addEventListener("input", note);
  by("all").addEventListener("click", () => {
    for (const name of wishes) by(name).value = "";
    note();
    by(wishes[0]).focus();
  });
  addEventListener("hashchange", recall);
  if (recall()) box.scrollIntoView();
})();
