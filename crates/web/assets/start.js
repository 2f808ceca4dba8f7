// Starts the app and watches for a newer version of it.
import init from "./web.js";

init({ module_or_path: new URL("./web_bg.wasm", import.meta.url) }).then(
  () => document.documentElement.setAttribute("data-started", "yes"),
  (why) => {
    console.error(why);
    document.documentElement.setAttribute("data-failed", "yes");
  },
);

const workers = navigator.serviceWorker;
if (workers) {
  workers
    .register("/sw.js", { updateViaCache: "none" })
    .then((registration) => {
      const ready = () => {
        // the very first worker is no newer version, even where it is in charge before it is ready
        if (registration.active && registration.waiting?.state === "installed") {
          window.dispatchEvent(new Event("app-ready"));
        }
      };
      ready();
      registration.addEventListener("updatefound", () => {
        registration.installing?.addEventListener("statechange", ready);
      });
      window.startNewVersion = () => {
        workers.addEventListener("controllerchange", () => location.reload(), { once: true });
        registration.waiting?.postMessage("start");
      };
    })
    .catch((why) => console.warn("no work without a network here:", why));
}
