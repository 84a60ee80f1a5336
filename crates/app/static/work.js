// Starts the program in a worker, without a screen: the module that the page has compiled, so that nothing is fetched or
// compiled twice.
import start from "./app.js";

const say = (said) => postMessage(JSON.stringify(said));

// Held for as long as the worker lives. The page waits for it, and so learns of a worker that was killed.
const hold = (name) => new Promise((held) => {
  if (!navigator.locks) return held();
  navigator.locks.request(name, () => { held(); return new Promise(() => {}); });
});

addEventListener("message", async ({ data: { module, lock } }) => {
  try {
    await hold(lock);
    await start({ module_or_path: module });
  } catch (error) {
    say({ Stopped: { why: String(error) } });
  }
}, { once: true });
