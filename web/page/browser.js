// What the viewer asks of the browser. Nothing here knows anything of teeth.

const PREFIX = "eminentia session ";
const held = new Set();
let own = "";

/// Takes a name for this tab's session, and learns which ones other tabs have.
export async function takeName() {
  own = PREFIX + Date.now().toString(36) + Math.random().toString(36).slice(2, 8);
  if (!navigator.locks) return;
  // Held as long as the page is there.
  navigator.locks.request(own, () => new Promise(() => {}));
  for (const lock of (await navigator.locks.query()).held ?? []) held.add(lock.name);
}

export const query = () => location.search.slice(1);
export const fragment = () => location.hash.slice(1);
export const ownName = () => own;
export const isHeld = (name) => held.has(name);
export const seconds = () => performance.now() / 1000;
export const sinceEpoch = () => Date.now();
export const nextFrame = () => new Promise((drawn) => { requestAnimationFrame(drawn); });
export const setTitle = (title) => { document.title = title; };

export function send(fragment) {
  history.replaceState(null, "", "#" + fragment);
  // The address line has it in any case.
  navigator.clipboard?.writeText(location.href).catch(() => {});
}

export function download(name, kind, bytes) {
  give(name, new Blob([bytes], { type: kind }));
}

export function downloadPicture(name) {
  document.getElementById("canvas").toBlob((picture) => { if (picture) give(name, picture); }, "image/png");
}

function give(name, blob) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

export function choose() {
  document.getElementById("chosen").click();
}

// Where a browser forbids storage, asking for it throws.
function storage(does, otherwise) {
  try {
    return does(localStorage);
  } catch {
    return otherwise;
  }
}

export const keep = (name, text) => storage((store) => (store.setItem(name, text), true), false);
export const kept = (name) => storage((store) => store.getItem(name) ?? undefined, undefined);
export const forget = (name) => storage((store) => store.removeItem(name), undefined);
export const keptNames = () => storage((store) => Object.keys(store).filter((name) => name.startsWith(PREFIX)), []);

export function drawnNumber() {
  const [high, low] = crypto.getRandomValues(new Uint32Array(2));
  return (high & 0x1fffff) * 2 ** 32 + low;
}

export const ringIn = (milliseconds) => {
  setTimeout(() => window.eminentia.ring(), milliseconds);
};

export function hasBegun() {
  document.getElementById("cover").hidden = true;
  document.documentElement.dataset.shown = "picture";
}

export const log = (what) => console.info(what);

/// Covers the page with words, and a way to begin again.
export function failed(why) {
  const cover = document.getElementById("cover");
  // What comes after the first is of its making.
  if (cover.dataset.failed) return;
  cover.dataset.failed = "yes";
  document.documentElement.dataset.shown = "failed";
  cover.replaceChildren();
  cover.hidden = false;
  const add = (kind, words) => {
    const element = document.createElement(kind);
    element.textContent = words;
    cover.append(element);
    return element;
  };
  add("h1", "The viewer has stopped");
  add("p", why).className = "wrong";
  add("p", "Changes that were kept are offered again when the page is loaded anew.");
  const again = add("button", "Load the page anew");
  again.addEventListener("click", () => location.reload());
  again.focus();
}
