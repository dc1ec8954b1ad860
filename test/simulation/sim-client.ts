import { ClearanceRecord } from '../../libs/ledger/clearances/clearance-record.js';
import { refKey } from '../../libs/domain/events/event-order.js';
import { ReadItem } from '../../libs/ledger/intake/read-events.js';
import { eventOf, GATE_BENCH, planOf } from '../support/gate-events.js';
import { Step } from '../reference/gate-words.js';
import { drawAct, SimAct, SimFact } from './sim-act.js';
import { SimApi } from './sim-api.js';
import { delayOf, SimWorld } from './sim-process.js';
import { readEvents } from './sim-shop.js';

/** Longest wait for an answer, and between two tries, ms. */
const PATIENCE_MS = 8000;
const RETRY_MS = 300;

/** What clients know for themselves, against which the book is held. */
export class ClientList {
  /** `refKey` of every event that was answered for. */
  readonly acknowledged = new Set<string>();
  /** Everything that clients ever tried to say, by `refKey`, as the API reads it. */
  readonly said = new Map<string, ReadItem>();
  /** Ids of clearances that a client was told of, by who asked. */
  readonly granted = new Map<string, Set<string>>();
  /** Who asked under a key: one request, however often it came. */
  readonly keyed = new Set<string>();
  /** Answers that none should get. */
  readonly odd: string[] = [];
  refused = 0;
  /** Numbers of events so far, over all clients. */
  events = 0;
}

/** One for all: to make an error takes longer than a step. */
const NO_ANSWER = new Error('no answer');

type Ask = Extract<SimAct, { act: 'ask' }>;

/** A station: does its acts one after the other, each again and again until it is answered, and notes what it was told. */
export class SimClient {
  isDone = false;
  #asked = 0;

  constructor(
    private readonly name: string,
    private readonly world: SimWorld,
    private readonly apis: readonly SimApi[],
    private readonly list: ClientList,
  ) {}

  async work(acts: number): Promise<void> {
    for (let n = 0; n < acts; n += 1) {
      await this.#wait(this.world.dice.below(this.world.weather.pauseMs));
      await this.#do(drawAct(this.world.dice, this.world.weather.moves));
    }
    this.isDone = true;
  }

  async #do(act: SimAct): Promise<void> {
    if (act.act === 'wait') await this.#wait(act.ms);
    else if (act.act === 'tell') await this.#tell(act.facts, null);
    else await this.#ask(act);
  }

  async #tell(facts: readonly SimFact[], clearance: string | null): Promise<void> {
    const { dice, weather, time } = this.world;
    const items = readEvents(
      facts.map((fact) => {
        const now = new Date(time.ms).toISOString();
        return eventOf({ ...fact, number: (this.list.events += 1), time: now, startedAt: now, clearance });
      }),
    );
    for (const item of items) if (item.ok) this.list.said.set(refKey(item.event), item);
    if (dice.chance(weather.late)) await this.#wait(dice.below(3000));
    await this.#post(items);
    if (dice.chance(weather.repeats)) await this.#post([...items].reverse());
  }

  async #post(items: readonly ReadItem[]): Promise<void> {
    const { items: answers } = await this.#untilAnswered('posts', (api) => api.post(items));
    for (const [n, answer] of answers.entries()) {
      const item = items[n];
      if (answer.state === 'rejected') this.list.odd.push(`an event was refused: ${answer.problem.detail}`);
      else if (item?.ok === true) this.list.acknowledged.add(refKey(item.event));
    }
  }

  async #ask({ subject, steps, ttlSeconds, isKeyed, then }: Ask): Promise<void> {
    const { list, world } = this;
    const name = `${this.name} ${String((this.#asked += 1))}`;
    if (isKeyed) list.keyed.add(name);
    const ask = (): Promise<ClearanceRecord | null> =>
      this.#untilAnswered('asks', async (api) => {
        const answer = await api.ask({
          ...{ subject, steps: steps.map(planOf), ttlSeconds, station: GATE_BENCH, operator: 'op' },
          actor: { kind: 'station', name },
          ...(isKeyed && { request: { caller: this.name, key: name, bodyHash: name } }),
        });
        if (answer === 'other-body') list.odd.push(`${name} was taken for another request`);
        return answer !== 'other-body' && 'granted' in answer ? answer.granted : null;
      });
    const granted = await ask();
    if (granted === null) list.refused += 1;
    else list.granted.set(name, (list.granted.get(name) ?? new Set()).add(granted.id));
    if (isKeyed && world.dice.chance(world.weather.repeats)) {
      const again = await ask();
      if (again?.id !== granted?.id) list.odd.push(`${name} was answered otherwise when it came again`);
    }
    if (granted !== null) await this.#use(granted, steps, then, name);
  }

  async #use(granted: ClearanceRecord, steps: readonly Step[], then: Ask['then'], name: string): Promise<void> {
    if (then === 'follow') {
      const { subject } = granted;
      for (const doing of steps) {
        await this.#tell([{ subject, doing, measured: { own: 'melts', beside: 'cool' } }], granted.id);
      }
    } else if (then === 'return') {
      const wish = { id: granted.id, subject: granted.subject, actor: { kind: 'station', name } } as const;
      await this.#untilAnswered('returns', (api) => api.giveBack(wish));
    }
  }

  async #untilAnswered<T>(what: string, ask: (api: SimApi) => Promise<T>): Promise<T> {
    for (;;) {
      const api = this.world.dice.one(this.apis);
      try {
        return await this.#answerOf(what, api, ask);
      } catch {
        await this.#wait(this.world.dice.below(RETRY_MS));
      }
    }
  }

  /** One try at one api, which may be down, die over it, or take too long. */
  #answerOf<T>(what: string, api: SimApi, ask: (api: SimApi) => Promise<T>): Promise<T> {
    const { process } = api;
    return new Promise((resolve, reject) => {
      const arrives = (how: string, then: () => void): void => {
        this.world.time.after(delayOf(this.world), `${this.name} ${how}`, then);
      };
      const fail = (): void => {
        reject(NO_ANSWER);
      };
      arrives(`${what} at ${process.name}`, () => {
        if (!process.isUp) {
          fail();
          return;
        }
        const heard = process.onKilled(() => {
          arrives('loses its connection', fail);
        });
        this.world.time.after(PATIENCE_MS, `${this.name} gives up`, fail);
        ask(api).then(
          (answer) => {
            arrives('is answered', () => {
              heard();
              if (process.isUp) resolve(answer);
            });
          },
          () => {
            arrives('hears of a fault', fail);
          },
        );
      });
    });
  }

  #wait(ms: number): Promise<void> {
    return new Promise((resolve) => {
      this.world.time.after(ms, `${this.name} goes on`, resolve);
    });
  }
}
