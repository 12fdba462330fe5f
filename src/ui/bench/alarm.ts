/** Sound, vibration and a lit screen. Each may be missing on a device: what is missing is said on the sheet. */
import { signal } from "@preact/signals";

let sound: AudioContext | undefined;

/** `undefined` before it was tried. */
export const soundReady = signal<boolean | undefined>(undefined);
/** Whether the screen is being held on. */
export const screenHeld = signal<boolean | undefined>(undefined);

/** To be called from a tap: browsers allow sound only after one. */
export function readySound(): void {
  try {
    sound ??= new AudioContext();
    void sound.resume().then(
      () => {
        soundReady.value = true;
      },
      () => {
        soundReady.value = false;
      },
    );
  } catch {
    soundReady.value = false; // no sound on this device
  }
}

/** Whether a ring can be heard now. */
export const isAudible = () => sound?.state === "running";

/** `urgency` 0, 1, 2: one, two or three rising groups of tones, so that the mark is known by ear. */
export function ring(urgency: number): void {
  const groups = urgency + 1;
  navigator.vibrate?.(Array.from({ length: groups }, () => [400, 200]).flat());
  if (sound?.state !== "running") return;
  const start = sound.currentTime + 0.02;
  for (let g = 0; g < groups; g++)
    for (let beep = 0; beep < 3; beep++)
      tone(sound, 880 + 220 * urgency, start + g * 0.9 + beep * 0.22, 0.16);
}

function tone(context: AudioContext, hertz: number, at: number, seconds: number): void {
  const source = context.createOscillator();
  const loudness = context.createGain();
  source.type = "square"; // cuts through a fan
  source.frequency.value = hertz;
  loudness.gain.setValueAtTime(0, at);
  loudness.gain.linearRampToValueAtTime(0.5, at + 0.01);
  loudness.gain.setValueAtTime(0.5, at + seconds - 0.02);
  loudness.gain.linearRampToValueAtTime(0, at + seconds);
  source.connect(loudness).connect(context.destination);
  source.start(at);
  source.stop(at + seconds + 0.02);
}

let lock: WakeLockSentinel | undefined;
let wanted = false;

export async function holdScreen(): Promise<void> {
  wanted = true;
  if (!("wakeLock" in navigator)) {
    screenHeld.value = false;
    return;
  }
  if (lock && !lock.released) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => {
      screenHeld.value = false;
    });
    screenHeld.value = true;
  } catch {
    screenHeld.value = false; // low battery, or not allowed
  }
}

export function letScreenSleep(): void {
  wanted = false;
  void lock?.release();
  lock = undefined;
}

/** The lock ends whenever the sheet is hidden: take it again when it is back. */
export function keepHold(): () => void {
  const on = () => {
    if (wanted && document.visibilityState === "visible") void holdScreen();
  };
  document.addEventListener("visibilitychange", on);
  return () => document.removeEventListener("visibilitychange", on);
}
