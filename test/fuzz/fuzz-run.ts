import { Agent } from 'node:http';
import { bareAnswer } from '../support/bare-connection.js';
import { UNUSUAL_CONNECTIONS } from '../support/unusual-connections.js';
import { answerFaults } from './answer-faults.js';
import { Dice } from './dice.js';
import { FuzzDocument } from './document-routes.js';
import { FuzzFigures, FuzzReport } from './fuzz-report.js';
import { FuzzRequest } from './fuzz-request.js';
import { FuzzShop } from './fuzz-shop.js';
import { RequestMaker } from './make-request.js';
import { HealthWatch, ProcessHealth } from './process-health.js';
import { sendRequest } from './send-request.js';

const AT_ONCE = 16;
const ANSWER_MS = 15_000;
/** One in so many is sent over a bare socket. */
const RAW_EVERY = 50;
const TENTHS = 10;

export interface FuzzOutcome extends FuzzFigures {
  readonly seed: number;
  readonly seconds: number;
  /** The least that the api had in each tenth of the requests. */
  readonly health: readonly ProcessHealth[];
}

/** Sends so many bad requests, the same for the same seed, and looks at every answer. */
export class FuzzRun {
  private readonly report = new FuzzReport();
  private readonly agent = new Agent({ keepAlive: true, maxSockets: AT_ONCE });
  private readonly base: URL;
  private readonly maker: RequestMaker;
  private made = 0;

  constructor(
    private readonly target: { readonly url: string; readonly apiPid: number },
    document: FuzzDocument,
    { names, callers }: FuzzShop,
    private readonly seed: number,
  ) {
    this.base = new URL(target.url);
    this.maker = new RequestMaker(new Dice(seed), document, names, callers);
  }

  /** @param told hears after each tenth how far it is */
  async send(requests: number, told: (done: number) => void = () => undefined): Promise<FuzzOutcome> {
    const began = performance.now();
    const watch = new HealthWatch(this.target.apiPid);
    const health: ProcessHealth[] = [];
    for (let tenth = 1; tenth <= TENTHS; tenth += 1) {
      const until = Math.round((requests * tenth) / TENTHS);
      await Promise.all(Array.from({ length: AT_ONCE }, () => this.lane(until)));
      health.push(await watch.take());
      told(until);
    }
    watch.end();
    this.agent.destroy();
    const seconds = Math.round((performance.now() - began) / 100) / 10;
    return { seed: this.seed, seconds, health, ...this.report.figures };
  }

  private async lane(until: number): Promise<void> {
    while (this.made < until) {
      this.made += 1;
      if (this.made % RAW_EVERY === 0) await this.sendRaw(this.made / RAW_EVERY);
      else await this.sendMade(this.maker.make());
    }
  }

  private async sendMade(asked: FuzzRequest): Promise<void> {
    try {
      const headers = { ...clientAt(this.made), ...asked.headers };
      const answer = await sendRequest(this.base, this.agent, { ...asked, headers }, ANSWER_MS);
      this.report.count(asked, String(answer.status), answer.elapsedMs);
      if (answer.status < 300) this.maker.learn(asked.route, answer.text);
      for (const fault of answerFaults(asked, answer, this.routeOf(asked))) this.report.fault(fault, asked, answer);
    } catch (error) {
      this.report.count(asked, 'none', 0);
      this.report.fault(`no answer: ${error instanceof Error ? error.message : String(error)}`, asked);
    }
  }

  /** The route that the request goes to for certain: one with another method or address may be of any. */
  private routeOf({ kind, route }: FuzzRequest): ReturnType<RequestMaker['routeCalled']> {
    return kind === 'method' || kind.startsWith('address') ? undefined : this.maker.routeCalled(route);
  }

  private async sendRaw(number: number): Promise<void> {
    const raw = UNUSUAL_CONNECTIONS[number % UNUSUAL_CONNECTIONS.length];
    if (raw === undefined) return;
    const asked = { kind: `raw: ${raw.name}`, route: 'raw', method: '', target: raw.bytes, headers: {}, secrets: [] };
    try {
      const answer = await bareAnswer(this.target.url, raw.bytes, raw.halfClosed);
      const status = answer?.status ?? 'none';
      this.report.count(asked, String(status), answer?.elapsedMs ?? 0);
      if (status !== raw.answer)
        this.report.fault(`${raw.name}: ${String(status)} for ${String(raw.answer)}`, asked, answer);
      if (answer === undefined) return;
      for (const fault of answerFaults(asked, answer, undefined))
        this.report.fault(`${raw.name}: ${fault}`, asked, answer);
    } catch (error) {
      this.report.count(asked, 'none', 0);
      this.report.fault(`${raw.name}: ${String(error)}`, asked);
    }
  }
}

/** Each its own client, as told by a proxy of this machine: one that is refused so often would soon be told nothing else. */
function clientAt(number: number): Record<string, string> {
  return { 'x-forwarded-for': [10, number >> 16, number >> 8, number].map((part) => String(part & 0xff)).join('.') };
}
