/* Classic script in the oldest syntax: it must run where the modules cannot. It sets the scheme before
   the first paint and shows a plain sentence where a needed feature is missing. */
(function () {
  var root = document.documentElement;
  try {
    var view = JSON.parse(window.localStorage.getItem("battenwright.view") || "{}");
    if (view.scheme === "light" || view.scheme === "dark") root.setAttribute("data-scheme", view.scheme);
  } catch (blocked) {
    /* The store says so in its own notice. */
  }
  var enough =
    "noModule" in document.createElement("script") &&
    typeof WebAssembly === "object" &&
    typeof ResizeObserver === "function" &&
    typeof IntersectionObserver === "function" &&
    typeof PointerEvent === "function" &&
    typeof HTMLDialogElement === "function" &&
    typeof Array.prototype.at === "function" &&
    typeof structuredClone === "function";
  if (!enough) {
    root.setAttribute("data-too-old", "");
    document.addEventListener("DOMContentLoaded", function () {
      var notice = document.getElementById("too-old");
      if (notice) notice.hidden = false;
    });
  }
})();
