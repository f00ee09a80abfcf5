(function () {
  "use strict";
  var root = document.documentElement;
  var key = root.dataset.key;
  var store = {
    get: function (name) {
      try { return localStorage.getItem(key + "-" + name); } catch (e) { return null; }
    },
    set: function (name, value) {
      try {
        if (value === null) { localStorage.removeItem(key + "-" + name); }
        else { localStorage.setItem(key + "-" + name, value); }
      } catch (e) { /* Private windows may keep nothing: ticks then last as long as the page. */ }
    }
  };
  var buttons = document.querySelectorAll("[data-set]");
  function show(unit) {
    root.dataset.unit = unit;
    buttons.forEach(function (button) {
      button.setAttribute("aria-pressed", String(button.dataset.set === unit));
    });
  }
  buttons.forEach(function (button) {
    button.addEventListener("click", function () {
      show(button.dataset.set);
      store.set("unit", button.dataset.set);
    });
  });
  var unit = store.get("unit");
  show(unit === "inch" || unit === "mm" ? unit : root.dataset.unit);
  document.querySelector(".units").hidden = false;
  document.querySelectorAll(".steps input").forEach(function (box) {
    box.checked = store.get(box.id) === "1";
    box.addEventListener("change", function () { store.set(box.id, box.checked ? "1" : null); });
  });
})();
