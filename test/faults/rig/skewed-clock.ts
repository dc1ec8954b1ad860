// Loaded before a program of ours (`--import`), to run it on a clock that is wrong by so many milliseconds.
const skewMs = Number(process.env['FAULTS_SKEW_MS'] ?? '0');
const { Date: rightClock } = globalThis;
const now = (): number => rightClock.now() + skewMs;

globalThis.Date = new Proxy(rightClock, {
  construct: (target, given: unknown[], made: typeof Date): object => {
    const date: unknown = Reflect.construct(target, given.length === 0 ? [now()] : given, made);
    return date as object;
  },
  get: (target, name): unknown => (name === 'now' ? now : Reflect.get(target, name)),
});
