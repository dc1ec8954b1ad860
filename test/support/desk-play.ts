import { disposeHold } from '../../libs/ledger/holds/dispose-hold.js';
import { raiseHold } from '../../libs/ledger/holds/raise-hold.js';
import { releaseHold } from '../../libs/ledger/holds/release-hold.js';
import { Signer } from '../../libs/ledger/signing/signature.js';
import { Decision, NaiveDesk, SIGNERS, Signer as SignerName } from '../reference/naive-desk.js';
import { BookHarness } from './book-harness.js';
import { newest } from './gate-choices.js';
import { holdSubjectOf, isAboutShipment, textOf } from './gate-subjects.js';

/** What both sides said to one operation; null where there was nothing to do it to. */
export interface Answers {
  readonly book: readonly string[];
  readonly naive: readonly string[];
}

/** What people do about holds, done to the book and on the naive desk. */
export class DeskPlay {
  /** Ids of holds raised by hand, by their place on the naive desk. */
  private readonly raised = new Map<number, string>();

  constructor(
    private readonly book: BookHarness,
    private readonly naive: NaiveDesk,
  ) {}

  async held(subject: string, by: SignerName): Promise<null> {
    const answer = await raiseHold(this.book.deps, { subject: holdSubjectOf(subject), note: 'odd', by });
    if ('refused' in answer) throw new Error(answer.detail);
    this.raised.set(this.naive.holds.length, answer.id);
    this.naive.raise(subject, by);
    return null;
  }

  /** @param at when, in ms since the epoch */
  async decided(which: number, decision: Decision, by: SignerName, at: number): Promise<Answers | null> {
    const open = await this.openHold(which);
    if (open === undefined) return null;
    const { id, hold } = open;
    const wish = { id, decision, note: 'looked at', signer: signerOf(by) };
    const answer = await disposeHold(this.book.deps, wish);
    const naive = this.naive.dispose(hold, decision, by, at);
    return { naive: [naive ?? 'decided'], book: ['refused' in answer ? answer.refused : 'decided'] };
  }

  async released(which: number, by: SignerName): Promise<Answers | null> {
    const open = await this.openHold(which);
    if (open === undefined) return null;
    const { id, hold } = open;
    const answer = await releaseHold(this.book.deps, { id, note: 'in order', signer: signerOf(by) });
    const naive = this.naive.release(hold, by);
    return { naive: [naive ?? 'released'], book: ['refused' in answer ? answer.refused : 'released'] };
  }

  /** Decides and releases what is held for how it left. */
  async shipmentsSettled(): Promise<null> {
    const { items } = await this.book.reads.holds({ state: 'open' }, { limit: 500, cursor: null });
    for (const { id } of items.filter(isAboutShipment)) {
      await disposeHold(this.book.deps, { id, decision: 'use-as-is', note: 'told them', signer: signerOf('bea') });
      await releaseHold(this.book.deps, { id, note: 'told them', signer: signerOf('ann') });
    }
    return null;
  }

  /** Boards with an open hold about how they left, one for each. */
  async stoppedByShipment(): Promise<readonly string[]> {
    const { items } = await this.book.reads.holds({ state: 'open' }, { limit: 500, cursor: null });
    return items.filter(isAboutShipment).map(({ subject }) => textOf(subject));
  }

  private async openHold(which: number) {
    const open = this.naive.open();
    const hold = open[newest(open, which) ?? -1];
    if (hold === undefined) return undefined;
    const byHand = this.raised.get(this.naive.holds.indexOf(hold));
    if (byHand !== undefined) return { hold, id: byHand };
    const { items } = await this.book.reads.holds({ state: 'open' }, { limit: 500, cursor: null });
    const same = items.find(({ reason, subject }) => reason === hold.reason && textOf(subject) === hold.subject);
    if (same === undefined) throw new Error(`the book has no open hold ${hold.reason} on ${hold.subject}`);
    return { hold, id: same.id };
  }
}

export function signerOf(name: SignerName): Signer {
  return { name, named: `name of ${name}`, roles: SIGNERS[name] ? ['approver'] : ['quality'], meaning: 'as it says' };
}
