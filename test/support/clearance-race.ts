import { randomBytes } from 'node:crypto';
import { FamilyMember, ProcessFamily } from './process-family.js';
import { enterDemoSetup } from './process-bench.js';
import { freshDatabase, FreshDatabase } from './fresh-database.js';
import { mulberry32 } from './mulberry32.js';

/** What a number of rounds came to. */
export interface RaceResult {
  readonly seed: number;
  readonly rounds: number;
  readonly granted: number;
  /** Refused for the device alone, with the figures as they were. */
  readonly refusedRight: number;
  /** Answers that are neither, in words; at most ten. */
  readonly wrong: readonly string[];
  readonly seconds: number;
}

const ASSEMBLY = 'ZIB-PANEL-1';
const BENCH = 'HOTGAS-1';
const TOUCH_UP = {
  type: 'heatbook.site.heated.v1',
  refdes: 'U1',
  purpose: 'touch-up',
  profile: { name: `${ASSEMBLY}-U1-OFF`, revision: 'B' },
};

/** Api processes on one database of their own, and no worker: whoever asks first folds. */
export class ClearanceRace {
  readonly #family = new ProcessFamily();
  readonly #urls: string[] = [];

  private constructor(
    private readonly database: FreshDatabase,
    private readonly key: string,
  ) {}

  static async open(redisUrl: string, processes: number): Promise<ClearanceRace> {
    const database = await freshDatabase();
    await enterDemoSetup(database.url);
    const race = new ClearanceRace(database, randomBytes(32).toString('hex'));
    const env = { DATABASE_URL: database.url, REDIS_URL: redisUrl, PORT: '0', HEATBOOK_ADMIN_KEY: race.key };
    const apis = Array.from({ length: processes }, () => race.#family.start('apps/api/main.ts', env));
    for (const api of apis) {
      await api.printed('api is up');
      race.#urls.push(addressOf(api));
    }
    return race;
  }

  /** Each round: a board whose device has one excursion left, and so many requests for it at once. */
  async run(rounds: number, requests: number, seed: number): Promise<RaceResult> {
    const random = mulberry32(seed);
    const began = performance.now();
    const total = { granted: 0, refusedRight: 0, wrong: [] as string[] };
    for (let round = 0; round < rounds; round += 1) {
      const serial = `R${String(round).padStart(5, '0')}`;
      await this.#receive(serial);
      // Where the receipt still waits, claiming it keeps all but one back; where it does not, the board alone does.
      if (round % 3 !== 0) await this.#settle(serial);
      const answers = await Promise.all(
        Array.from({ length: requests }, () => this.#ask(serial, Math.floor(random() * this.#urls.length))),
      );
      const granted = answers.filter((answer) => answer === 'granted').length;
      total.granted += granted;
      total.refusedRight += answers.filter((answer) => answer === 'refused').length;
      const odd = answers.filter((answer) => answer !== 'granted' && answer !== 'refused');
      if (granted !== 1) odd.push(`round ${String(round)}: ${String(granted)} were granted`);
      total.wrong.push(...odd.slice(0, 10 - total.wrong.length));
    }
    return { seed, rounds, ...total, seconds: Math.round(performance.now() - began) / 1000 };
  }

  async close(): Promise<void> {
    await this.#family.endAll();
    await this.database.drop();
  }

  /** Posts the receipt of a board. */
  async #receive(serial: string): Promise<void> {
    const event = {
      specversion: '1.0',
      type: 'heatbook.unit.received.v1',
      source: '/stations/RECV-1',
      id: serial,
      subject: `${ASSEMBLY}/${serial}`,
      time: '2026-03-02T12:00:00+01:00',
      data: {
        devices: [{ refdes: 'U1', device: `D-${serial}`, priorExcursions: 2 }],
        sites: [{ refdes: 'U1', priorReworks: 0 }],
      },
    };
    const { status, body } = await this.#post('/v1/events', event, 'application/cloudevents+json', 0);
    if (status !== 202) throw new Error(`the receipt was answered ${String(status)}: ${JSON.stringify(body)}`);
  }

  /** Has the receipt folded, by a request for more than the device has left. */
  async #settle(serial: string): Promise<void> {
    const { status, body } = await this.#request(serial, [TOUCH_UP, TOUCH_UP], 0);
    if (status !== 409) throw new Error(`two touch-ups were answered ${String(status)}: ${JSON.stringify(body)}`);
  }

  async #ask(serial: string, process: number): Promise<string> {
    const { status, body } = await this.#request(serial, [TOUCH_UP], process);
    if (status === 201) return 'granted';
    const reasons = JSON.stringify((body as { reasons?: { code: string }[] }).reasons?.map(figuresOf));
    const right = JSON.stringify([{ code: 'device-excursions', used: 2, reserved: 1, asked: 1, allowed: 3 }]);
    return status === 409 && reasons === right ? 'refused' : `${String(status)} ${JSON.stringify(body)}`;
  }

  #request(serial: string, steps: readonly object[], process: number): Promise<{ status: number; body: unknown }> {
    const wish = { assembly: ASSEMBLY, serial, operator: 'op-101', station: BENCH, steps };
    return this.#post('/v1/clearances', wish, 'application/json', process);
  }

  async #post(path: string, body: object, type: string, process: number): Promise<{ status: number; body: unknown }> {
    const answer = await fetch(`${String(this.#urls[process])}${path}`, {
      method: 'POST',
      headers: { authorization: `Bearer ${this.key}`, 'content-type': type },
      body: JSON.stringify(body),
    });
    return { status: answer.status, body: await answer.json() };
  }
}

function figuresOf(reason: {
  code: string;
  used?: number;
  reserved?: number;
  asked?: number;
  allowed?: unknown;
}): object {
  const { code, used, reserved, asked, allowed } = reason;
  return { code, used, reserved, asked, allowed };
}

function addressOf(api: FamilyMember): string {
  const address = /"message":"api is up","url":"([^"]+)"/.exec(`${api.stdout()}${api.stderr()}`)?.[1];
  if (address === undefined) throw new Error(`no address in ${api.stderr()}`);
  return address;
}
