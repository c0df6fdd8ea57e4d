// The page without a picture: settings, place on the excursion, and the table of numbers.

function element(kind, words, ...inside) {
  const made = document.createElement(kind);
  if (words) made.textContent = words;
  made.append(...inside);
  return made;
}

export function showNumbers(viewer, draws) {
  document.documentElement.dataset.shown = "numbers";
  document.getElementById("canvas").hidden = true;
  const cover = document.getElementById("cover");
  cover.className = "numbers";
  cover.replaceChildren();
  const why = draws
    ? "Numbers alone, as the address asks for."
    : "The picture needs WebGPU or WebGL2, which this browser does not give: a newer browser, or one in which the graphics card is not switched off, shows it. The numbers work without.";
  const title = element("h1");
  const excursion = element("select");
  const place = Object.assign(element("input"), { type: "range", min: 0, step: 1 });
  const reading = element("output");
  const wrong = element("p");
  wrong.className = "wrong";
  wrong.setAttribute("role", "alert");
  const notes = element("div");
  const settings = element("tbody");
  const cusps = element("tbody");
  const caution = element("p");
  caution.className = "caution";
  const heads = (...words) => element("thead", "", element("tr", "", ...words.map((word) => element("th", word))));
  const undo = element("button", "Undo");
  cover.append(
    title, element("p", why), caution, notes,
    element("p", "", element("label", "Excursion ", excursion), " ", undo),
    element("label", "Place on the excursion ", place, reading), wrong,
    Object.assign(element("div", "",
      element("table", "", element("caption", "Teeth"), heads("Cusp", "Separation, mm", "Clearance, mm", ""), cusps),
      element("table", "", element("caption", "Settings"), heads("Setting", "Value", ""), settings),
    ), { className: "columns" }),
  );
  const act = (what, value) => {
    wrong.textContent = viewer.numbersAct(what, String(value)) ?? "";
    show();
  };
  excursion.addEventListener("change", () => act("excursion", excursion.value));
  place.addEventListener("input", () => act("sample", place.value));
  undo.addEventListener("click", () => act("undo", ""));
  window.addEventListener("hashchange", () => { viewer.addressChanged(); show(); });
  window.addEventListener("pagehide", () => viewer.keepNow());

  function show() {
    const now = JSON.parse(viewer.numbersNow());
    title.textContent = now.title;
    document.title = now.title;
    caution.textContent = now.caution;
    notes.replaceChildren(...now.notes.map((note) => element("p", note)));
    excursion.replaceChildren(...now.excursions.map((name, number) => new Option(name, number)));
    excursion.value = now.excursion;
    place.max = now.samples - 1;
    place.value = now.sample;
    reading.textContent = `${now.at.toFixed(2)} of ${now.end.toFixed(2)} ${now.unit}`;
    cusps.replaceChildren(...now.cusps.map((cusp) => element("tr", "",
      element("td", cusp.name), element("td", cusp.separation_mm), element("td", cusp.clearance_mm),
      element("td", cusp.interferes ? "interferes" : ""))));
    rows(now.settings);
  }

  // A field that is being typed in stays the one it is.
  function rows(list) {
    const names = list.map((setting) => setting.name).join();
    if (settings.dataset.names !== names) {
      settings.dataset.names = names;
      settings.replaceChildren(...list.map((setting) => {
        const field = Object.assign(element("input"), { type: "number", step: "any", name: setting.name });
        field.addEventListener("change", () => act(setting.name, field.value));
        return element("tr", "", element("td", setting.label), element("td", "", field), element("td", setting.unit));
      }));
    }
    list.forEach((setting, number) => {
      const field = settings.rows[number].querySelector("input");
      field.setAttribute("aria-label", `${setting.label}, ${setting.unit}, ${setting.low} to ${setting.high}`);
      [field.min, field.max] = [setting.low, setting.high];
      if (document.activeElement !== field || Number(field.value) !== setting.value) field.value = setting.value;
    });
  }

  show();
}
