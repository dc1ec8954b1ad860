import { FuzzAnswer, FuzzRequest } from './fuzz-request.js';

/** One way in which answers were wrong, with the first request that showed it. */
interface FoundFault {
  count: number;
  readonly routes: Record<string, number>;
  readonly example: string;
}

/** What a run came to, as `--json` prints it. */
export interface FuzzFigures {
  readonly requests: number;
  readonly byStatus: Readonly<Record<string, number>>;
  readonly byKind: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly byRoute: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly slowestMs: number;
  readonly faults: Readonly<Record<string, FoundFault>>;
}

/** Longer bodies are cut in an example. */
const MOST_SHOWN = 600;

/** Counts answers by status, kind and route, and keeps an example of each fault. */
export class FuzzReport {
  private requests = 0;
  private slowestMs = 0;
  private readonly byStatus: Record<string, number> = {};
  private readonly byKind: Record<string, Record<string, number>> = {};
  private readonly byRoute: Record<string, Record<string, number>> = {};
  private readonly faults: Record<string, FoundFault> = {};

  /** @param outcome the status, or that there was none */
  count(asked: FuzzRequest, outcome: string, elapsedMs: number): void {
    this.requests += 1;
    this.slowestMs = Math.max(this.slowestMs, elapsedMs);
    add(this.byStatus, outcome);
    add((this.byKind[asked.kind] ??= {}), outcome);
    add((this.byRoute[asked.route] ??= {}), outcome);
  }

  fault(what: string, asked: FuzzRequest, answer?: FuzzAnswer): void {
    const found = (this.faults[what] ??= { count: 0, routes: {}, example: exampleOf(asked, answer) });
    found.count += 1;
    add(found.routes, asked.route);
  }

  get figures(): FuzzFigures {
    const { requests, byStatus, byKind, byRoute, slowestMs, faults } = this;
    return { requests, byStatus, byKind, byRoute, slowestMs: Math.round(slowestMs), faults };
  }
}

function add(counts: Record<string, number>, key: string): void {
  counts[key] = (counts[key] ?? 0) + 1;
}

function exampleOf({ kind, method, target, headers, body }: FuzzRequest, answer?: FuzzAnswer): string {
  // Whoever reads the report needs no key.
  const { authorization, cookie, ...shown } = headers;
  const who = authorization === undefined ? (cookie === undefined ? 'nobody' : 'a person') : 'a key';
  const text = JSON.stringify(body?.toString('utf8').slice(0, MOST_SHOWN) ?? '');
  const back = answer === undefined ? '' : ` -> ${String(answer.status)} ${answer.text.slice(0, MOST_SHOWN)}`;
  return `${kind}; ${who}: ${method} ${target.slice(0, MOST_SHOWN)} ${JSON.stringify(shown).slice(0, MOST_SHOWN)} ${text}${back}`;
}
