/** Asks the library, in a worker, so that the sheet stays quick under the finger. */
import type { Answers, Question, Reply } from "./asked.ts";

let worker: Worker | undefined;
let count = 0;
const waiting = new Map<number, (reply: Reply) => void>();

function theWorker(): Worker {
  if (worker) return worker;
  const made = new Worker(new URL("./answering.ts", import.meta.url), { type: "module" });
  made.onmessage = (e: MessageEvent<{ id: number; reply: Reply }>) => {
    waiting.get(e.data.id)?.(e.data.reply);
    waiting.delete(e.data.id);
  };
  made.onerror = (e) => {
    for (const tell of waiting.values()) tell({ fault: e.message });
    waiting.clear();
    made.terminate();
    worker = undefined;
  };
  worker = made;
  return made;
}

export function ask<K extends keyof Answers>(
  question: Question & { readonly ask: K },
): Promise<Reply<K>> {
  const id = ++count;
  return new Promise((resolve) => {
    waiting.set(id, (reply) => resolve(reply as Reply<K>));
    theWorker().postMessage({ id, question });
  });
}
