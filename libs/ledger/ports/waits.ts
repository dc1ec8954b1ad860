/** Time that only goes forward, and waiting for it. The machine's, unless a simulation brings its own. */
export interface Waits {
  /** Milliseconds since some moment. */
  nowMs(): number;
  /** Calls back once so many milliseconds have passed. */
  after(ms: number, then: () => void): void;
  /** Calls back once what this turn of the event loop finds in its sockets is read. */
  afterTurn(then: () => void): void;
}

export const machineWaits: Waits = {
  nowMs: () => performance.now(),
  after: (ms, then) => {
    setTimeout(then, ms);
  },
  afterTurn: (then) => {
    setImmediate(then);
  },
};
