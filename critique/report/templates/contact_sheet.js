"use strict";
// Lays out the cards from the data in the page: ordered, filtered, and a page at a time when there are many.
(() => {
  const { faults, pictures } = JSON.parse(document.getElementById("data").textContent);
  const RANK = 0, NAME = 1, FOLDER = 2, HREF = 3, THUMBNAIL = 4, WIDTH = 5, HEIGHT = 6, LEVELS = 7, KEY = 8, GREEN = 9, VALUE = 10, ALT = 11, UNCROPPED = 12, WORD = 13;
  const WORDS = { h: "holds", w: "watch", r: "rework" };
  const form = document.querySelector(".choose");
  const list = document.querySelector(".cards");
  const status = document.querySelector(".shown");
  const pager = document.querySelector(".pager");
  const [before, after] = pager.querySelectorAll("button");
  const pagedFrom = Number(list.dataset.pagedFrom), pageOf = Number(list.dataset.pageOf);
  const choiceFrom = 4; // pictures: fewer are taken in at one look
  const names = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });
  const orders = {
    ready: (a, b) => a[RANK] - b[RANK],
    needs: (a, b) => b[RANK] - a[RANK],
    name: (a, b) => names.compare(a[FOLDER], b[FOLDER]) || names.compare(a[NAME], b[NAME]),
    green: (a, b) => b[GREEN] - a[GREEN],
    light: (a, b) => b[VALUE] - a[VALUE],
    dark: (a, b) => a[VALUE] - b[VALUE],
  };
  let chosen = [], page = 0;

  const gravest = (levels) => (levels.includes("r") ? "r" : levels.includes("w") ? "w" : "h");

  function wanted() {
    const { level, subject, key, name } = Object.fromEntries(new FormData(form));
    const sought = name.trim().toLowerCase();
    return (picture) => {
      const own = subject === "" ? gravest(picture[LEVELS]) : picture[LEVELS][subject];
      // A finding chosen without a level asks for the pictures in which it does not hold.
      if (subject !== "" && level === "" ? own !== "w" && own !== "r" : level !== "" && own !== level) return false;
      if (key && picture[KEY] !== key) return false;
      return !sought || `${picture[FOLDER]}/${picture[NAME]}`.toLowerCase().includes(sought);
    };
  }

  function mark(level) {
    return document.getElementById(`mark-${WORDS[level]}`).content.cloneNode(true);
  }

  function card(picture) {
    const item = document.getElementById("card").content.cloneNode(true).firstElementChild;
    const image = item.querySelector("img"), name = item.querySelector(".name"), levels = item.querySelector(".levels");
    item.querySelector(".picture").href = name.href = picture[HREF];
    item.querySelector(".picture").tabIndex = -1; // the name beside it leads to the same page
    image.src = picture[THUMBNAIL];
    image.width = picture[WIDTH];
    image.height = picture[HEIGHT];
    image.alt = `${picture[NAME]}. ${picture[ALT]}`;
    item.querySelector(".rank").textContent = picture[RANK];
    name.append(...breakable(picture[NAME]));
    item.querySelector(".folder").textContent = picture[FOLDER];
    let holding = 0;
    for (const level of "rw") {
      [...picture[LEVELS]].forEach((own, place) => {
        if (own === level) levels.append(line(level, faults[place]));
      });
    }
    for (const own of picture[LEVELS]) holding += own === "h";
    if (holding) levels.append(line("h", levels.childElementCount ? `${holding} more ${holding > 1 ? "hold" : "holds"}` : "all hold"));
    if (picture[WORD]) levels.append(Object.assign(document.createElement("li"), { className: "word", textContent: picture[WORD] }));
    if (!levels.childElementCount) levels.textContent = "nothing to judge yet";
    if (picture[UNCROPPED]) item.querySelector(".doubt").textContent = "not cropped: wall and frame may be judged with it";
    return item;
  }

  // A long name breaks after its underscores, hyphens and dots before it breaks anywhere.
  function breakable(name) {
    return name.split(/(?<=[_\-.])/).flatMap((part, place) => (place ? [document.createElement("wbr"), part] : [part]));
  }

  function line(level, text) {
    const item = document.createElement("li");
    item.className = WORDS[level];
    item.append(mark(level), Object.assign(document.createElement("span"), { textContent: text }));
    return item;
  }

  function draw() {
    const size = chosen.length > pagedFrom ? pageOf : Math.max(chosen.length, 1);
    const pages = Math.ceil(chosen.length / size) || 1;
    page = Math.min(Math.max(page, 0), pages - 1);
    list.replaceChildren(...chosen.slice(page * size, (page + 1) * size).map(card));
    pager.hidden = pages < 2;
    pager.querySelector("span").textContent = `Page ${page + 1} of ${pages}`;
    before.disabled = page === 0;
    after.disabled = page === pages - 1;
    const all = chosen.length === pictures.length;
    status.textContent = all ? "" : `${chosen.length} of ${pictures.length} pictures`;
    remember();
  }

  function choose() {
    const order = orders[form.elements.order.value] || orders.ready;
    chosen = pictures.filter(wanted()).sort((a, b) => order(a, b) || a[RANK] - b[RANK]);
    draw();
  }

  // The choice lives in the address, so that coming back from a review, or a bookmark, finds it again.
  function remember() {
    const state = new URLSearchParams([...new FormData(form)].filter(([name, value]) => value && value !== "ready"));
    if (page) state.set("page", page + 1);
    try {
      history.replaceState(null, "", state.size ? `#${state}` : location.pathname + location.search);
    } catch (refused) { /* some browsers keep a local file's address as it is */ }
  }

  function recall() {
    for (const [name, value] of new URLSearchParams(location.hash.slice(1))) {
      if (name === "page") page = Number(value) - 1 || 0;
      else if (form.elements[name]) form.elements[name].value = value;
    }
    for (const select of form.querySelectorAll("select")) if (select.selectedIndex < 0) select.selectedIndex = 0;
  }

  function turn(step) {
    page += step;
    draw();
    document.getElementById("pictures").scrollIntoView();
  }

  form.hidden = pictures.length < choiceFrom;
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => { page = 0; choose(); });
  form.addEventListener("reset", () => setTimeout(() => { page = 0; choose(); }));
  before.addEventListener("click", () => turn(-1));
  after.addEventListener("click", () => turn(1));
  recall();
  choose();
})();
