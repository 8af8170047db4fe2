// The call of a due stop: sound, vibration, and a screen that stays lit while a run is under way.

const AGAIN = 20_000; // ms between two calls that nobody answered
/** @type {AudioContext | null} */
let sound = null;
/** @type {WakeLockSentinel | null} */
let lit = null;
let called = 0;

/** Ask for sound while a tap allows it; it is kept for the call. */
export const ready = () => {
  sound ??= window.AudioContext ? new AudioContext() : null;
  sound?.resume().catch(() => {});
};

/** Call now, unless it has just called. */
export function call(now = Date.now()) {
  if (Math.abs(now - called) < AGAIN) return;
  called = now;
  navigator.vibrate?.([600, 200, 600, 200, 600]);
  for (let beep = 0; sound && beep < 4; beep++) tone(sound, sound.currentTime + beep * 0.5);
}

export const silence = () => { called = 0; };

/** @param {AudioContext} context @param {number} at */
function tone(context, at) {
  const source = context.createOscillator(), loud = context.createGain();
  loud.gain.value = 0.4;
  source.frequency.value = 880;
  source.connect(loud).connect(context.destination);
  source.start(at);
  source.stop(at + 0.3);
}

/** Keep the screen lit where the browser can; without it the calendar has to call. */
/** @param {boolean} on */
export async function keepLit(on) {
  if (!on) { await lit?.release().catch(() => {}); lit = null; return; }
  if (lit && !lit.released) return;
  lit = await navigator.wakeLock?.request("screen").catch(() => null) ?? null;
}
