// Starts the program, and says so where it cannot start or has stopped.
// It stands in a file of its own because the page's policy runs no script written inside the page.
import { keepUpToDate } from "./update.js";

// The colours that were chosen last, before anything is painted; the program keeps them.
// The language too, for the few sentences that stand in the page itself.
const root = document.documentElement;
root.lang = navigator.language.startsWith("es") ? navigator.language : "en";
try {
  const theme = localStorage.getItem("headwright-theme");
  if (theme) root.dataset.theme = theme;
  const language = localStorage.getItem("headwright-language");
  if (language) root.lang = language;
} catch {
  // A browser that keeps nothing has no choice of ours.
}

const notice = document.getElementById("stopped");

// The program writes what happened by itself where it still can; this is for what it cannot see.
function showStopped(why) {
  if (notice.hidden) {
    document.getElementById("stopped-why").textContent = String(why);
    notice.hidden = false;
  }
}

document.getElementById("stopped-reload").addEventListener("click", () => location.reload());
for (const event of ["error", "unhandledrejection"]) {
  addEventListener(event, ({ error, reason }) => {
    if ((error ?? reason) instanceof WebAssembly.RuntimeError) showStopped(error ?? reason);
  });
}

// What the program cannot do without; index.html has the words.
if (typeof WebAssembly !== "object" || typeof HTMLDialogElement !== "function") {
  document.getElementById("too-old").hidden = false;
}

keepUpToDate();
try {
  const { default: start } = await import("./app.js");
  await start();
} catch (error) {
  showStopped(error);
}
