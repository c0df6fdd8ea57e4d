// Fingers, keys and files, made into what the viewer knows: a mouse with two buttons and a wheel, keys that the
// browser leaves alone, names and bytes.

// A file larger than this is not read: no scene, case, tracing or scan of a jaw is.
const MOST_BYTES = 400e6;
// A finger that moves no farther than this, in pixels of the page, taps.
const STILL = 6;
// The wheel's pixels for a picture that is magnified e times: what the viewer takes for a notch is a hundredth.
const WHEEL_PER_E = 995;

export function listen(canvas, viewer) {
  fingers(canvas, viewer);
  keys(canvas, viewer);
  files(viewer);
  // The viewer looks at what has happened; where nothing has, it rests.
  const seen = ["pointermove", "pointerdown", "pointerup", "wheel", "keydown", "keyup"];
  for (const event of seen) window.addEventListener(event, () => viewer.ring(), { passive: true });
  new ResizeObserver(() => viewer.refresh()).observe(canvas);
  matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener("change", () => viewer.refresh());
  window.addEventListener("hashchange", () => viewer.addressChanged());
  window.addEventListener("pagehide", () => viewer.keepNow());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") viewer.keepNow();
    else viewer.refresh();
  });
}

function fingers(canvas, viewer) {
  const send = (kind, [x, y], button, buttons) => canvas.dispatchEvent(new PointerEvent(kind, {
    clientX: x, clientY: y, button, buttons, pointerType: "mouse", bubbles: true, cancelable: true,
  }));
  const move = (place) => send("pointermove", place, -1, 0);
  const wheel = ([x, y], deltaX, deltaY) => canvas.dispatchEvent(
    new WheelEvent("wheel", { clientX: x, clientY: y, deltaX, deltaY, bubbles: true, cancelable: true }));
  const down = new Map();
  // What the fingers do: "tap" until one has moved, then "drag" with one, "two" with two.
  let doing = null, began = null, last = null;
  const middle = () => {
    const [a, b] = [...down.values()];
    return { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.hypot(a[0] - b[0], a[1] - b[1]) };
  };
  const end = () => {
    if (doing === "drag") send("pointerup", last, 0, 0);
    if (doing === "two" && last.isPicture) send("pointerup", last.at, 2, 0);
    doing = null;
  };
  // A finger that was lifted is nowhere, once the viewer has seen what it did.
  const leave = () => {
    const seen = viewer.frames() + 3;
    const look = () => {
      if (down.size) return;
      if (viewer.frames() < seen) requestAnimationFrame(look);
      else move([-1, -1]);
      viewer.ring();
    };
    requestAnimationFrame(look);
  };
  const touched = (event, does) => canvas.addEventListener(event, (touch) => {
    // The graphics crate would take them for what they are not on a dense screen.
    touch.preventDefault();
    touch.stopImmediatePropagation();
    canvas.focus({ preventScroll: true });
    does([...touch.changedTouches].map((finger) => [finger.identifier, [finger.clientX, finger.clientY]]));
    viewer.ring();
  }, { capture: true, passive: false });
  touched("touchstart", (fingers) => {
    end();
    for (const [finger, place] of fingers) down.set(finger, place);
    if (down.size === 1) {
      const [place] = down.values();
      [doing, began, last] = ["tap", place, place];
      move(place);
    } else if (down.size === 2) {
      [doing, last] = ["two", middle()];
      last.isPicture = viewer.isPicture(...last.at);
      move(last.at);
      if (last.isPicture) send("pointerdown", last.at, 2, 2);
    }
  });
  touched("touchmove", (fingers) => {
    // Both first: of a finger that is ahead of the other the picture would turn large and small again.
    for (const [finger, place] of fingers) down.set(finger, place);
    const [place] = down.values();
    if (doing === "tap" && Math.hypot(place[0] - began[0], place[1] - began[1]) > STILL) {
      doing = "drag";
      send("pointerdown", began, 0, 1);
    }
    if (doing === "drag") {
      last = place;
      move(place);
    } else if (doing === "two") {
      const now = middle();
      move(now.at);
      if (last.isPicture) {
        if (last.apart > 0 && now.apart > 0) wheel(now.at, 0, -WHEEL_PER_E * Math.log(now.apart / last.apart));
      } else {
        wheel(now.at, 10 * (last.at[0] - now.at[0]), 10 * (last.at[1] - now.at[1]));
      }
      last = { ...now, isPicture: last.isPicture };
    }
  });
  const lifted = (isTap) => (fingers) => {
    if (doing === "tap" && isTap) {
      send("pointerdown", last, 0, 1);
      send("pointerup", last, 0, 0);
      doing = null;
    }
    end();
    for (const [finger] of fingers) down.delete(finger);
    if (!down.size) leave();
  };
  touched("touchend", lifted(true));
  touched("touchcancel", lifted(false));
  // What the browser makes of fingers beside that is not looked at.
  for (const event of ["pointermove", "pointerdown", "pointerup"]) {
    window.addEventListener(event, (pointer) => {
      if (pointer.isTrusted && pointer.pointerType === "touch") pointer.stopImmediatePropagation();
    }, { capture: true });
  }
  canvas.addEventListener("pointerdown", (pointer) => {
    canvas.focus({ preventScroll: true });
    // A drag that leaves the canvas, and the page, goes on.
    if (pointer.isTrusted) canvas.setPointerCapture(pointer.pointerId);
  });
}

function keys(canvas, viewer) {
  const isOurs = () => document.activeElement === canvas || document.activeElement === document.body;
  const embedded = new URLSearchParams(location.search).get("only") === "picture";
  for (const event of ["keydown", "keyup"]) {
    window.addEventListener(event, (key) => {
      if (!isOurs()) {
        key.stopImmediatePropagation();
        return;
      }
      const control = key.ctrlKey || key.metaKey;
      // What belongs to the browser stays its own: to load anew, its tools, its menus.
      const foreign = key.key === "F5" || key.key === "F11" || key.key === "F12" || (control && key.code === "KeyR")
        || (key.altKey && !control) || (control && key.shiftKey && (key.code === "KeyI" || key.code === "KeyJ"));
      // In a page within another, Tab leads out of the picture.
      if (foreign || (embedded && key.key === "Tab")) key.stopImmediatePropagation();
      else {
        key.preventDefault();
        // With the control key the graphics crate tells of no letter.
        if (control && !key.altKey && event === "keydown" && key.key.length === 1) viewer.chord(key.key, key.shiftKey);
      }
    }, { capture: true });
  }
}

function files(viewer) {
  const take = async (list) => {
    const files = [...list];
    const large = files.find((file) => file.size > MOST_BYTES);
    if (large) {
      viewer.tooLarge(large.name, large.size);
      return;
    }
    const read = await Promise.all(files.map((file) => file.arrayBuffer().catch(() => null)));
    // A folder that was dropped cannot be read as a file.
    const contents = read.map((bytes) => new Uint8Array(bytes ?? 0));
    if (files.length) viewer.give(files.map((file) => file.name), contents);
  };
  window.addEventListener("dragover", (drag) => drag.preventDefault());
  window.addEventListener("drop", (drop) => {
    drop.preventDefault();
    take(drop.dataTransfer.files);
  });
  const chosen = document.getElementById("chosen");
  chosen.addEventListener("change", async () => {
    await take(chosen.files);
    // The same file can be chosen again.
    chosen.value = "";
  });
}
