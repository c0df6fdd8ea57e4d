// Loads the viewer, and finds out what there is to draw with.

import init, * as viewer from "./eminentia.js";
import { failed, takeName } from "./browser.js";
import { listen } from "./hands.js";
import { showNumbers } from "./numbers.js";

// How long WebGPU may take to answer, in milliseconds: some browsers never do where there is no graphics card.
const PATIENCE = 10_000;

/// What draws here: { by: "webgpu", "webgl2" or "nothing", isSoftware }.
async function graphics() {
  const soon = (promise) => Promise.race([promise, new Promise((done) => setTimeout(done, PATIENCE, null))]);
  const adapter = await soon(navigator.gpu?.requestAdapter().catch(() => null) ?? null);
  if (adapter) return { by: "webgpu", isSoftware: adapter.info?.isFallbackAdapter ?? false };
  // The viewer takes WebGL2 only where no WebGPU is in sight.
  Object.defineProperty(navigator, "gpu", { value: undefined, configurable: true });
  const gl = document.createElement("canvas").getContext("webgl2");
  if (!gl) return { by: "nothing", isSoftware: true };
  const driver = String(gl.getParameter(gl.getExtension("WEBGL_debug_renderer_info")?.UNMASKED_RENDERER_WEBGL ?? gl.RENDERER));
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return { by: "webgl2", isSoftware: /swiftshader|llvmpipe|software/i.test(driver) };
}

/// The viewer's module, with the progress bar following what has come of it.
async function loaded() {
  const progress = document.getElementById("progress");
  const answer = await fetch("./eminentia_bg.wasm");
  if (!answer.ok) throw new Error(`The viewer's file is not there (${answer.status}).`);
  const reader = answer.body.getReader();
  let come = 0;
  const counted = new ReadableStream({
    async pull(stream) {
      const { done, value } = await reader.read();
      if (done) return stream.close();
      come += value.byteLength;
      progress.value = come / WASM_BYTES;
      stream.enqueue(value);
    },
  });
  return init({ module_or_path: new Response(counted, { headers: { "Content-Type": "application/wasm" } }) });
}

async function start() {
  const [{ by, isSoftware }] = await Promise.all([graphics(), loaded(), takeName()]);
  const only = new URLSearchParams(location.search).get("only");
  const hasPicture = by !== "nothing" && only !== "numbers";
  window.eminentia = viewer;
  viewer.begin(hasPicture ? by : "nothing", isSoftware);
  if (!hasPicture) return showNumbers(viewer, by !== "nothing");
  const canvas = document.getElementById("canvas");
  canvas.addEventListener("webglcontextlost", () => failed("The browser has taken the graphics away."));
  listen(canvas, viewer);
  canvas.focus({ preventScroll: true });
}

window.addEventListener("unhandledrejection", (event) => failed(String(event.reason?.message ?? event.reason)));
start().catch((error) => failed(String(error?.message ?? error)));
