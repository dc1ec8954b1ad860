/** Said to whoever comes when there is no room left to wait. */
export class WorkGateFull extends Error {
  override readonly name = 'WorkGateFull';

  constructor() {
    super('too much of this work is waiting already');
  }
}

/** Lets only so much work run at a time, and only so much wait. */
export class WorkGate {
  private running = 0;
  private readonly waiting: (() => void)[] = [];

  constructor(
    private readonly most: number,
    private readonly mostWaiting: number,
  ) {}

  /** @throws WorkGateFull at once, where the line is full */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.running >= this.most) await this.turn();
    else this.running += 1;
    try {
      return await work();
    } finally {
      // Whoever waited longest takes this place over, so that nobody slips in between.
      const next = this.waiting.shift();
      if (next === undefined) this.running -= 1;
      else next();
    }
  }

  private turn(): Promise<void> {
    if (this.waiting.length >= this.mostWaiting) return Promise.reject(new WorkGateFull());
    return new Promise((resolve) => this.waiting.push(resolve));
  }
}

/** Hashing takes 19 MiB and a core each time: a few at once leave the rest of the service its share. */
export function passwordGate(most = 2): WorkGate {
  return new WorkGate(most, 32);
}
