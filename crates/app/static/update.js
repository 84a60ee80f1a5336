// Registers the service worker, and lets a new version take over when no test is open, in this window or another.
//
// A window with a test open holds a lock that the service worker asks for before it takes over; a window that
// crashes lets go of it. The program says by an event what is under way.
const LOCK = "headwright-test";
const TAKE_OVER = "no test is open";

let registration = null;
let letGo = null;
let held = null;

// Asks a version that waits to take over; the service worker looks at the lock itself.
function offer() {
  registration?.waiting?.postMessage(TAKE_OVER);
}

function hold() {
  if (letGo) return;
  const closed = new Promise((resolve) => { letGo = resolve; });
  held = navigator.locks?.request(LOCK, { mode: "shared" }, () => closed);
}

async function release() {
  letGo?.();
  letGo = null;
  // Until the lock is free the service worker would refuse.
  await held;
  if (!letGo) offer();
}

function follow(worker) {
  worker?.addEventListener("statechange", () => {
    if (worker.state !== "installed") return;
    offer();
    // The program says that it waits, where a test is open.
    if (letGo) dispatchEvent(new Event("headwright:update-waits"));
  });
}

export async function keepUpToDate() {
  document.addEventListener("headwright:work", ({ detail }) => (detail === "test" ? hold() : release()));
  const container = navigator.serviceWorker;
  if (!container) return;
  // The first worker takes over a page that is already of its version; only a later one makes it load again.
  let isFirst = !container.controller;
  container.addEventListener("controllerchange", () => {
    if (!isFirst) location.reload();
    isFirst = false;
  });
  try {
    registration = await container.register("./service-worker.js", { updateViaCache: "none" });
  } catch {
    // Without it the page works as long as there is a network.
    return;
  }
  registration.addEventListener("updatefound", () => follow(registration.installing));
  follow(registration.installing);
  offer();
  addEventListener("online", () => registration.update().catch(() => {}));
}
