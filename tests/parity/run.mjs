// Answers each request of a JSON list with the WebAssembly module, and writes the list of answers.
// Usage: node run.mjs MODULE.wasm REQUESTS.json
import { readFileSync } from "node:fs";

const [modulePath, requestsPath] = process.argv.slice(2);
const module = new WebAssembly.Module(readFileSync(modulePath));

// The engine is pure: a module that asks the host for a clock or for chance is refused before it runs.
const imports = WebAssembly.Module.imports(module);
if (imports.length > 0) {
  throw new Error(`the module imports ${imports.map(({ module, name }) => `${module}.${name}`).join(", ")}`);
}

// A module of its own for each request, so that no answer depends on the one before.
function answer(request) {
  const { exports: engine } = new WebAssembly.Instance(module);
  const bytes = new TextEncoder().encode(request);
  const room = engine.parity_request(bytes.length);
  new Uint8Array(engine.memory.buffer, room, bytes.length).set(bytes);
  const length = engine.parity_answer();
  const written = new Uint8Array(engine.memory.buffer, engine.parity_answer_at(), length);
  return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(written);
}

function answerOrTrap(request) {
  try {
    return answer(request);
  } catch (error) {
    return `the module stopped: ${error}`;
  }
}

const requests = JSON.parse(readFileSync(requestsPath, "utf8"));
process.stdout.write(JSON.stringify(requests.map(answerOrTrap)));
