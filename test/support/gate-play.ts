import { annulEvent } from '../../libs/ledger/annulments/annul-event.js';
import { grantClearance } from '../../libs/ledger/clearances/grant-clearance.js';
import { lapseClearances } from '../../libs/ledger/clearances/lapse-clearances.js';
import { returnClearance } from '../../libs/ledger/clearances/return-clearance.js';
import { signConcession } from '../../libs/ledger/concessions/sign-concession.js';
import { withdrawConcession } from '../../libs/ledger/concessions/withdraw-concession.js';
import { Measured, Step, UNMEASURED } from '../reference/gate-words.js';
import { Decision } from '../reference/naive-desk.js';
import { NaiveGate } from '../reference/naive-gate.js';
import { BookHarness } from './book-harness.js';
import { Answers, DeskPlay, signerOf } from './desk-play.js';
import { another, newest, scarcest, sensibly } from './gate-choices.js';
import { eventId, eventOf, GATE_BENCH, planOf } from './gate-events.js';
import { Follow, Operation, Tell } from './gate-operation.js';
import { subjectOf, textOf } from './gate-subjects.js';
import { HandClock } from './hand-clock.js';
import { sensiblePlan } from './sensible-step.js';

const MINUTE_MS = 60_000;
type AskFor = Extract<Operation, { op: 'ask' }>;
const actor = { kind: 'station', name: GATE_BENCH } as const;

/** Does each operation to the book and to the naive gate. Both are told nothing but the operation and the time. */
export class GatePlay {
  readonly naive = new NaiveGate();
  /** Ids that the book gave, by the numbers of the naive gate. */
  readonly clearances: string[] = [];
  private readonly concessions: string[] = [];
  private readonly desk: DeskPlay;

  constructor(
    private readonly book: BookHarness,
    private readonly clock: HandClock,
  ) {
    this.desk = new DeskPlay(book, this.naive.desk);
  }

  async play(operation: Operation): Promise<Answers | null> {
    switch (operation.op) {
      case 'tell':
        return this.told(operation);
      case 'follow':
        return this.followed(operation);
      case 'ask':
        return this.asked(operation);
      case 'give back':
        return this.givenBack(operation.which);
      case 'wait':
        this.clock.pass(operation.minutes * MINUTE_MS);
        return this.lapsed();
      case 'annul':
        return this.annulled(operation.which);
      case 'concede':
        return this.conceded(operation.which, operation.more);
      case 'withdraw concession':
        return this.withdrawn(operation.which);
      case 'hold':
        return this.desk.held(operation.subject, operation.by);
      case 'decide':
        return this.desk.decided(operation.which, operation.decision, operation.by, this.clock.ms);
      case 'release':
        return this.desk.released(operation.which, operation.by);
      case 'let go':
        return this.letGo(operation.which, operation.decision);
      case 'comes back':
        return this.cameBack(operation.subject);
    }
  }

  private async told(tell: Tell): Promise<null> {
    await this.post(tell);
    await this.book.fold();
    return null;
  }

  private async post(tell: Tell): Promise<void> {
    const { measured, minutesAgo, minutesHot, names } = tell;
    const { subject, doing } = tell.sensible ? sensibly(this.naive, tell) : tell;
    const at = this.clock.ms - minutesAgo * MINUTE_MS;
    const isUnheated = doing.kind === 'dressing' && doing.method === 'braid' && isUnmeasured(measured);
    const began = isUnheated ? at : at - minutesHot * MINUTE_MS;
    const number = this.naive.told.length;
    const which = typeof names === 'number' ? newest(this.clearances, names) : undefined;
    const clearance = names === 'wrong' ? 'C-NONE' : which === undefined ? null : (this.clearances[which] ?? null);
    const event = eventOf({ ...{ number, subject, doing, measured, clearance }, time: iso(at), startedAt: iso(began) });
    const { items } = await this.book.post([event]);
    if (items.some(({ state }) => state !== 'accepted')) throw new Error(`not accepted: ${JSON.stringify(items)}`);
    this.naive.say({ ...{ subject, doing, measured, at, began }, names: which ?? (names === 'wrong' ? -1 : null) });
  }

  private async followed({ which, step, otherwise, ...when }: Follow): Promise<null> {
    const place = newest(this.naive.clearances, which);
    const clearance = place === undefined ? undefined : this.naive.clearances[place];
    const planned = clearance?.steps[step % clearance.steps.length];
    if (clearance === undefined || planned === undefined) return null;
    const { plan, device } = planned;
    const doing: Step = plan.kind === 'reballing' ? { ...plan, device } : otherwise ? another(plan) : plan;
    const subject = plan.kind === 'reballing' ? `devices/${String(device)}` : clearance.subject;
    return this.told({ ...when, op: 'tell', subject, doing, names: which, sensible: false });
  }

  private async asked({ wish: drawn, before, sensible }: AskFor): Promise<Answers> {
    if (before !== null) await this.post({ ...before, subject: drawn.subject });
    const { bench } = this.naive.story();
    const wish = sensible ? { ...drawn, steps: sensiblePlan(bench, drawn.subject, drawn.steps) } : drawn;
    const { ttlMinutes, steps, ...rest } = wish;
    const answer = await grantClearance(this.book.deps, {
      ...{ ...rest, steps: steps.map(planOf), ttlSeconds: ttlMinutes * 60, actor },
    });
    if (answer === 'other-body') throw new Error('no key was given');
    this.naive.stoppedByShipment = await this.desk.stoppedByShipment();
    const naive = this.naive.ask(wish, this.clock.ms);
    if ('granted' in answer) {
      this.clearances.push(answer.granted.id);
      return { naive, book: ['granted', ...answer.granted.spends.map(lineOf).sort()] };
    }
    const lines = answer.refused.reasons.map((reason) => {
      const { code, subject, limit, used = 0, reserved = 0, asked = 0, allowed = null } = reason;
      const isBudget = typeof allowed === 'number' && reason.used !== undefined && limit !== undefined;
      return isBudget ? lineOf({ limit, subject, used, reserved, asked, allowed }) : `${code} ${textOf(subject)}`;
    });
    await this.book.fold();
    return { naive, book: ['refused', ...lines.sort()] };
  }

  private async givenBack(which: number): Promise<Answers | null> {
    const place = newest(this.naive.clearances, which);
    const id = place === undefined ? undefined : this.clearances[place];
    const clearance = place === undefined ? undefined : this.naive.clearances[place];
    if (place === undefined || id === undefined || clearance === undefined) return null;
    const { subject } = clearance;
    const answer = await returnClearance(this.book.deps, { id, subject, actor });
    const naive = this.naive.giveBack(place, this.clock.ms);
    const book = typeof answer === 'string' ? answer : answer.returnedAt === null ? 'over' : 'returned';
    return { naive: [naive], book: [book] };
  }

  private async lapsed(): Promise<Answers> {
    const written = await lapseClearances(this.book.deps, this.clock.now());
    return { naive: [String(this.naive.lapse(this.clock.ms))], book: [String(written)] };
  }

  private async annulled(which: number): Promise<Answers | null> {
    const number = newest(this.naive.told, which);
    const subject = number === undefined ? undefined : this.naive.told[number]?.subject;
    if (number === undefined || subject === undefined) return null;
    const event = { source: `/stations/${GATE_BENCH}`, id: eventId(number) };
    const answer = await annulEvent(this.book.deps, { event, subject, note: 'another board', signer: signerOf('ann') });
    return {
      naive: [this.naive.strike(number) ? 'struck' : 'already'],
      book: [typeof answer === 'string' ? answer : 'struck'],
    };
  }

  private async conceded(which: number, more: number): Promise<Answers> {
    const { subject, limit, allowed } = scarcest(this.naive, which, more);
    const answer = await signConcession(this.book.deps, {
      ...{ subject: subjectOf(subject), limit, allowed, customerReference: 'REF', note: 'agreed' },
      signer: signerOf('bea'),
    });
    const naive = this.naive.concede(subject, limit, allowed, this.clock.ms);
    if (!('refused' in answer)) this.concessions.push(answer.id);
    return {
      naive: [naive ? 'signed' : 'concession-not-looser'],
      book: ['refused' in answer ? answer.refused : 'signed'],
    };
  }

  private async withdrawn(which: number): Promise<Answers | null> {
    const place = newest(this.concessions, which);
    const id = place === undefined ? undefined : this.concessions[place];
    const concession = place === undefined ? undefined : this.naive.concessions[place];
    if (id === undefined || concession === undefined) return null;
    const answer = await withdrawConcession(this.book.deps, { id, note: 'no longer', signer: signerOf('bea') });
    const naive = concession.withdrawn ? 'concession-ended' : 'withdrawn';
    concession.withdrawn = true;
    return { naive: [naive], book: ['refused' in answer ? answer.refused : 'withdrawn'] };
  }

  private async letGo(which: number, decision: Decision): Promise<Answers | null> {
    const decided = await this.desk.decided(which, decision, 'bea', this.clock.ms);
    const released = await this.desk.released(which, 'ann');
    if (decided === null || released === null) return null;
    return { naive: [...decided.naive, ...released.naive], book: [...decided.book, ...released.book] };
  }

  private async cameBack(subject: string): Promise<null> {
    const now = { minutesAgo: 0, minutesHot: 0, measured: UNMEASURED, names: null, sensible: false };
    await this.told({ op: 'tell', subject, doing: { kind: 'shipped' }, ...now });
    this.clock.pass(MINUTE_MS);
    await this.told({ op: 'tell', subject, doing: { kind: 'received' }, ...now });
    return this.desk.shipmentsSettled();
  }
}

function isUnmeasured({ own, beside }: Measured): boolean {
  return own === null && beside === null;
}

function iso(ms: number): string {
  return new Date(ms).toISOString();
}

function lineOf(row: {
  readonly limit: string;
  readonly subject: Parameters<typeof textOf>[0];
  readonly used: number;
  readonly reserved: number;
  readonly asked: number;
  readonly allowed: number | null;
}): string {
  const { limit, subject, used, reserved, asked, allowed } = row;
  return `${limit} ${textOf(subject)} used ${String(used)} reserved ${String(reserved)} asked ${String(asked)} allowed ${String(allowed)}`;
}
