// Search in all rows, and light up what belongs together in pictures and tables. The page says all without it.
(() => {
  "use strict";
  const page = document.querySelector("main");
  const rows = [...page.querySelectorAll("tbody tr")];
  const texts = rows.map((row) => row.textContent.toLowerCase());
  const blocks = [...page.querySelectorAll("article, section, .wide")];
  const field = document.getElementById("search");
  const answer = document.getElementById("found");

  const search = () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let found = 0;
    rows.forEach((row, index) => {
      row.hidden = !words.every((word) => texts[index].includes(word));
      found += row.hidden ? 0 : 1;
    });
    blocks.forEach((block) => {
      block.hidden = words.length > 0 && !block.querySelector("tbody tr:not([hidden])");
    });
    page.classList.toggle("searching", words.length > 0);
    answer.textContent = words.length ? `${found} / ${rows.length}` : "";
  };
  field.addEventListener("input", search);
  document.getElementById("finder").hidden = false;

  const byKey = new Map();
  page.querySelectorAll("[data-keys]").forEach((each) => {
    for (const key of each.dataset.keys.split(" ")) {
      if (!byKey.has(key)) byKey.set(key, []);
      byKey.get(key).push(each);
    }
  });
  const light = (from, on) => {
    for (const key of from.dataset.keys.split(" ")) {
      for (const each of byKey.get(key)) each.classList.toggle("lit", on);
    }
  };
  const owner = (event) => event.target.closest?.("[data-keys]");
  for (const [name, on] of [["pointerover", true], ["pointerout", false], ["focusin", true], ["focusout", false]]) {
    page.addEventListener(name, (event) => {
      const from = owner(event);
      if (from) light(from, on);
    });
  }
  const jump = (from) => {
    const key = from.dataset.keys.split(" ")[0];
    const row = byKey.get(key).find((each) => each.tagName === "TR" && !each.hidden);
    if (row) row.scrollIntoView({ block: "center" });
  };
  page.querySelectorAll("svg [data-keys]").forEach((each) => {
    each.setAttribute("tabindex", "0");
    each.addEventListener("click", () => jump(each));
    each.addEventListener("keydown", (event) => {
      if (event.key === "Enter") jump(each);
    });
  });
})();
