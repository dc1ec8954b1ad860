import { setTimeout as delay } from 'node:timers/promises';
import { Finding } from '../../../libs/simulator/mistake.js';
import { AskAct, PostAct, SimulatedAct, TraceAct } from '../../../libs/simulator/simulated-act.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';
import { untilJudged } from './book-findings.js';
import { Answer, PatientClient } from './patient-client.js';

/** How fast a day is played. */
export interface Pace {
  /** Seconds of the day in a second, at least 1; undefined: as fast as it goes. */
  readonly speed?: number | undefined;
  /** At most so many acts a second; undefined: no bound. */
  readonly rate?: number | undefined;
}

/** What the book answered. */
export interface PlayedDay {
  accepted: number;
  duplicates: number;
  rejected: number;
  traces: number;
  cleared: number;
  refused: number;
  /** Boards on which nothing more was done after a refusal. */
  putAside: number;
  /** Answers that no act should get, at most the first twenty. */
  readonly surprises: string[];
}

/** How many acts wait for an answer at once. */
const GREATEST_IN_FLIGHT = 64;
const GREATEST_SURPRISES = 20;
/** A bench has the day for what it was cleared for. */
const TTL_S = 86_400;

/** Plays the acts of a day: those of one board in turn, those of different boards beside each other. */
export class DayPlayer {
  readonly played: PlayedDay = {
    ...{ accepted: 0, duplicates: 0, rejected: 0, traces: 0, cleared: 0, refused: 0, putAside: 0 },
    surprises: [],
  };
  /** Duplicates and refusals, by board. */
  readonly findings = new Map<string, Finding[]>();
  private readonly turns = new Map<string, Promise<void>>();
  private readonly clearances = new Map<string, string>();
  private readonly aside = new Set<string>();
  /** What was posted last, by board. */
  private readonly newest = new Map<string, StationCloudEvent>();
  private readonly inFlight = new Set<Promise<void>>();

  constructor(private readonly client: PatientClient) {}

  /**
   * @param tell is told after each act how many are done
   * @throws ServiceRefused where the service stays away or the key is no good; what was begun is waited for
   */
  async play(acts: readonly SimulatedAct[], pace: Pace, tell: (done: number) => void = () => undefined): Promise<void> {
    const began = performance.now();
    const firstMs = acts[0]?.atMs ?? 0;
    let failure: Error | undefined;
    let done = 0;
    for (const [place, act] of acts.entries()) {
      const waitMs = dueMs(act, place, firstMs, pace) - (performance.now() - began);
      if (waitMs > 1) await delay(waitMs);
      if (this.inFlight.size >= GREATEST_IN_FLIGHT) await Promise.race(this.inFlight);
      if (failure !== undefined) break;
      const before = this.turns.get(act.board) ?? Promise.resolve();
      const mine = before
        .then(() => (failure === undefined ? this.perform(act) : undefined))
        .catch((error: unknown) => {
          failure ??= error instanceof Error ? error : new Error(String(error));
        })
        .finally(() => {
          this.inFlight.delete(mine);
          tell((done += 1));
        });
      this.inFlight.add(mine);
      this.turns.set(act.board, mine);
    }
    await Promise.all(this.turns.values());
    if (failure !== undefined) throw failure;
  }

  private async perform(act: SimulatedAct): Promise<void> {
    if (this.aside.has(act.board)) return;
    switch (act.kind) {
      case 'post':
        return this.post(act);
      case 'trace':
        return this.upload(act);
      case 'ask':
        return this.ask(act);
    }
  }

  private async post({ event, under, board, late }: PostAct): Promise<void> {
    const before = this.newest.get(board);
    if (late && before !== undefined) await untilJudged(this.client, before);
    this.newest.set(board, event);
    const clearance = under === null ? undefined : this.clearances.get(under);
    const told = clearance === undefined ? event : { ...event, data: { ...event.data, clearance } };
    const { status, body } = await this.client.send('POST', '/v1/events', {
      headers: { 'content-type': 'application/cloudevents+json' },
      body: JSON.stringify(told),
    });
    if (status !== 202) {
      this.played.rejected += 1;
      this.isSurprised(`${event.type} ${event.id}`, { status, body });
    } else if (body['duplicates'] === 1) {
      this.played.duplicates += 1;
      this.find(board, { kind: 'duplicate', code: event.id, subject: event.subject });
    } else this.played.accepted += 1;
  }

  private async upload({ name, csv }: TraceAct): Promise<void> {
    const answer = await this.client.send('PUT', `/v1/traces/${name}`, {
      headers: { 'content-type': 'text/csv' },
      body: csv,
    });
    if (answer.status <= 201) this.played.traces += 1;
    else this.isSurprised(`trace ${name}`, answer);
  }

  private async ask({ id, board, station, operator, steps, ifRefused }: AskAct): Promise<void> {
    const [assembly, serial] = board.split('/');
    const { status, body } = await this.client.send('POST', '/v1/clearances', {
      headers: { 'content-type': 'application/json', 'idempotency-key': id },
      body: JSON.stringify({ assembly, serial, station, operator, steps, ttlSeconds: TTL_S }),
    });
    if (status === 201) {
      this.played.cleared += 1;
      this.clearances.set(id, String(body['id']));
    } else if (status === 409 && Array.isArray(body['reasons'])) {
      this.played.refused += 1;
      for (const { code } of body['reasons'] as readonly { readonly code: string }[]) {
        this.find(board, { kind: 'refusal', code, subject: board });
      }
      if (ifRefused === 'go-ahead') return;
      this.played.putAside += 1;
      this.aside.add(board);
    } else this.isSurprised(`clearance ${id}`, { status, body });
  }

  private find(board: string, finding: Finding): void {
    this.findings.set(board, [...(this.findings.get(board) ?? []), finding]);
  }

  private isSurprised(what: string, { status, body }: Answer): void {
    if (this.played.surprises.length === GREATEST_SURPRISES) return;
    this.played.surprises.push(`${what}: ${String(status)} ${JSON.stringify(body['detail'] ?? body)}`);
  }
}

/** When an act is due, ms after the first. */
function dueMs({ atMs }: SimulatedAct, place: number, firstMs: number, { speed, rate }: Pace): number {
  const bySpeed = speed === undefined ? 0 : (atMs - firstMs) / speed;
  const byRate = rate === undefined ? 0 : (place * 1000) / rate;
  return Math.max(bySpeed, byRate);
}
