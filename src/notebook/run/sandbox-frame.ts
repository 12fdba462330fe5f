/**
 * The frame that holds a page's worker: opaque origin, a policy that forbids everything, one boot script known
 * by its hash. Starting a program ends the one before; its worker then speaks over a port of its own.
 */
import { frameHtml } from "virtual:sandbox";

export interface FrameWorker {
  readonly port: MessagePort;
  /** Ends the worker, whatever it does. */
  end(): void;
}

interface ScriptFailure {
  readonly detail: string;
  /** Line of the script. */
  readonly line: number;
}

const FRAME_READY_MS = 10_000;

export class SandboxFrame {
  #control: Promise<MessagePort> | undefined;
  #frame: HTMLIFrameElement | undefined;
  #number = 0;
  #failed: ((failure: ScriptFailure) => void) | undefined;

  /** Lays the frame, so that it is there when the first program comes. */
  prepare(): void {
    this.#control ??= this.#lay();
  }

  /** Starts a program's worker. `failed` hears of a script that can't be read. */
  async start(script: string, failed: (failure: ScriptFailure) => void): Promise<FrameWorker> {
    this.prepare();
    const number = ++this.#number;
    const control = await this.#control;
    if (control === undefined) throw new Error("the frame is gone");
    const { port1, port2 } = new MessageChannel();
    this.#failed = (failure) => {
      if (number === this.#number) failed(failure);
    };
    control.postMessage({ number, source: script }, [port2]);
    port1.start();
    return {
      port: port1,
      end: () => {
        port1.onmessage = null;
        port1.close();
        if (number === this.#number) control.postMessage({ number });
      },
    };
  }

  /** Whether the frame still answers. Its own thread is idle: silence means that its process is gone or choking. */
  async answers(within: number): Promise<boolean> {
    const control = await this.#control;
    if (control === undefined) return false;
    const ping = ++this.#pings;
    return await new Promise((resolve) => {
      const timer = setTimeout(() => {
        this.#waiting.delete(ping);
        resolve(false);
      }, within);
      this.#waiting.set(ping, () => {
        clearTimeout(timer);
        this.#waiting.delete(ping);
        resolve(true);
      });
      control.postMessage({ ping });
    });
  }

  #pings = 0;
  readonly #waiting = new Map<number, () => void>();

  /** Takes the frame away, and with it a worker that does not let itself be ended, or a crashed process. */
  remove(): void {
    this.#frame?.remove();
    this.#frame = undefined;
    this.#control = undefined;
    this.#failed = undefined;
  }

  #lay(): Promise<MessagePort> {
    const frame = document.createElement("iframe");
    frame.setAttribute("sandbox", "allow-scripts");
    frame.setAttribute("aria-hidden", "true");
    frame.title = "Where the page's workings run";
    frame.tabIndex = -1;
    frame.hidden = true;
    frame.srcdoc = frameHtml;
    this.#frame = frame;
    return new Promise((resolve, reject) => {
      const { port1, port2 } = new MessageChannel();
      const timer = setTimeout(() => {
        removeEventListener("message", ready);
        reject(new Error("the frame for workings did not start"));
      }, FRAME_READY_MS);
      const ready = (event: MessageEvent) => {
        if (event.source !== frame.contentWindow || event.data !== "castclock-frame") return;
        removeEventListener("message", ready);
        clearTimeout(timer);
        frame.contentWindow?.postMessage("castclock", "*", [port2]);
        resolve(port1);
      };
      port1.onmessage = ({ data }: MessageEvent) => {
        const { error, line, number, pong } = (data ?? {}) as Record<string, unknown>;
        if (typeof pong === "number") this.#waiting.get(pong)?.();
        if (typeof error !== "string" || number !== this.#number) return;
        this.#failed?.({ detail: error.slice(0, 1200), line: typeof line === "number" ? line : 0 });
      };
      addEventListener("message", ready);
      document.body.append(frame);
    });
  }
}
