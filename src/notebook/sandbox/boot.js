// The script of the sandboxed frame; the policies name it by its hash. Keeps one worker; a new one ends the old.
addEventListener(
  "message",
  (event) => {
    if (event.source !== parent) return;
    const [control] = event.ports;
    let worker;
    let number;
    control.onmessage = ({ data, ports }) => {
      if (data.ping !== undefined) {
        control.postMessage({ pong: data.ping });
        return;
      }
      worker?.terminate();
      worker = undefined;
      if (data.source === undefined) return;
      number = data.number;
      const mine = number;
      const address = URL.createObjectURL(new Blob([data.source], { type: "text/javascript" }));
      worker = new Worker(address); // classic: a module worker never starts from an opaque origin
      worker.onerror = (problem) => {
        problem.preventDefault();
        URL.revokeObjectURL(address);
        control.postMessage({ number: mine, error: String(problem.message), line: problem.lineno });
      };
      worker.postMessage(undefined, ports);
    };
  },
  { once: true },
);
parent.postMessage("castclock-frame", "*");
