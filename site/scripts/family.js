// The page of a family: a year chosen on the slider says who of the family was at work then. The table below says the
// same without it.
"use strict";

(() => {
  const section = document.querySelector(".family");
  const asked = section && section.querySelector(".year-asked");
  if (!asked) return;
  const slider = asked.querySelector("input");
  const output = asked.querySelector("output");
  const said = asked.querySelector(".said");
  const members = Array.from(section.querySelectorAll(".member"));
  if (!members.length || slider.min === slider.max) return;

  const within = (year, first, last) => (first === "" || year >= Number(first)) && (last === "" || year <= Number(last));

  function show() {
    const year = Number(slider.value);
    const found = [];
    for (const member of members) {
      const { first, last, livedFrom, livedTo } = member.dataset;
      const known = first !== "" || last !== "";
      const there = known ? within(year, first, last) : (livedFrom !== "" || livedTo !== "") && within(year, livedFrom, livedTo);
      member.classList.toggle("out", !there);
      if (there) found.push(member.dataset.name);
    }
    output.textContent = String(year);
    said.textContent = found.length ? found.join("; ") : said.dataset.nobody;
  }

  slider.value = String(Math.round((Number(slider.min) + Number(slider.max)) / 2));
  slider.addEventListener("input", show);
  asked.hidden = false;
  show();
})();
