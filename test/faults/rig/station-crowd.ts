import { setTimeout as delay } from 'node:timers/promises';
import { BookClient, NoAnswer } from '../../support/process-client.js';
import { events, ordinaryJob, SHOP } from '../../support/small-shop.js';

/** An event that the service has answered for, as the station that posted it remembers it. */
export interface Acknowledged {
  readonly ref: string;
  readonly type: string;
  /** Key of the ledger that it is to stand in. */
  readonly ledger: string;
}

interface Told {
  readonly source: string;
  readonly id: string;
  readonly type: string;
  readonly subject: string;
}

const LANES = 6;
const IN_A_POST = 40;
/** Boards that a lane works on side by side. */
const COHORT = 8;
const PAUSE_MS = 150;

/**
 * Stations that post whole reworks, each board by one of them and in order, and keep their own list of what was answered
 * for. What was not is posted again, unchanged, until it is.
 */
export class StationCrowd {
  /** By serial number. */
  readonly acknowledged = new Map<string, Acknowledged[]>();
  readonly #complaints = new Map<string, number>();

  constructor(
    private readonly clients: readonly BookClient[],
    private readonly random: () => number,
  ) {}

  /** Answers that no station should get, whatever befalls the service. */
  get complaints(): readonly string[] {
    return [...this.#complaints].map(([what, times]) => `${String(times)} times: ${what}`);
  }

  /** Posts so many boards; resolves when every event is answered for. */
  async work(serials: readonly string[]): Promise<void> {
    const lanes = Array.from({ length: LANES }, (_, lane) => serials.filter((_serial, n) => n % LANES === lane));
    await Promise.all(lanes.map((own, lane) => this.#lane(own, lane)));
  }

  async #lane(serials: readonly string[], lane: number): Promise<void> {
    for (let first = 0; first < serials.length; first += COHORT) {
      const jobs = serials
        .slice(first, first + COHORT)
        .map((serial) => events(serial, ordinaryJob(deviceOf(serial))) as Told[]);
      const steps = Math.max(...jobs.map((job) => job.length));
      const inOrder = Array.from({ length: steps }, (_, step) =>
        jobs.flatMap((job) => job.slice(step, step + 1)),
      ).flat();
      for (let start = 0; start < inOrder.length; start += IN_A_POST) {
        await this.#post(inOrder.slice(start, start + IN_A_POST), lane);
      }
    }
  }

  async #post(batch: readonly Told[], lane: number): Promise<void> {
    for (let attempt = 0; ; attempt += 1) {
      // A station whose service does not answer tries the other one.
      const client = this.clients[(lane + attempt) % this.clients.length];
      if (client === undefined) throw new Error('a crowd needs somebody to post to');
      try {
        const { status, body } = await client.post(batch);
        const states = status === 202 ? body.items.map(({ state }) => state) : [];
        if (states.length === batch.length && !states.includes('rejected')) {
          this.#note(batch);
          return;
        }
        this.#complain(`${String(status)} ${JSON.stringify(body).slice(0, 300)}`);
      } catch (error) {
        if (!(error instanceof NoAnswer)) this.#complain(String(error));
      }
      await delay(PAUSE_MS * (0.5 + this.random()));
    }
  }

  #note(batch: readonly Told[]): void {
    for (const { source, id, type, subject } of batch) {
      const serial = id.slice(0, id.lastIndexOf('-'));
      const list = this.acknowledged.get(serial) ?? [];
      list.push({ ref: `${source} ${id}`, type, ledger: subject });
      this.acknowledged.set(serial, list);
    }
  }

  #complain(what: string): void {
    const alike = what.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, '…');
    this.#complaints.set(alike, (this.#complaints.get(alike) ?? 0) + 1);
  }
}

/** The device that goes onto a board. */
export function deviceOf(serial: string): string {
  return `D-${serial}`;
}

/** Keys of the ledgers that the work on a board goes into. */
export function ledgersOf(serial: string): readonly string[] {
  return [`${SHOP.assembly}/${serial}`, `devices/${deviceOf(serial)}`];
}
