import { seal } from '../../libs/evidence/seal.js';
import { ClearanceAnswer, ClearanceWish, grantClearance } from '../../libs/ledger/clearances/grant-clearance.js';
import { returnClearance, ReturnClearance } from '../../libs/ledger/clearances/return-clearance.js';
import { AcceptedEvents, acceptEvents, IntakeDeps } from '../../libs/ledger/intake/accept-events.js';
import { FoldWaker } from '../../libs/ledger/intake/fold-waker.js';
import { InboxBatcher } from '../../libs/ledger/intake/inbox-batcher.js';
import { ReadItem } from '../../libs/ledger/intake/read-events.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { ProcessParts } from './process-parts.js';
import { SimProcess } from './sim-process.js';

/** One life of an api process, without its HTTP: the use cases that its controllers call. */
export class SimApi {
  readonly #deps: BookDeps;
  readonly #intake: IntakeDeps;

  constructor(
    house: ProcessParts,
    readonly process: SimProcess,
  ) {
    this.#deps = house.depsOf(process);
    const { store, log } = this.#deps;
    const waker = new FoldWaker(house.carrier.queueOf(process), store.shards, log, { waits: process.waits });
    const inbox = new InboxBatcher(store, undefined, process.waits);
    const wake = waker.wake.bind(waker);
    this.#intake = { inbox: house.planted.inbox?.(inbox) ?? inbox, seal, wake };
  }

  post(items: readonly ReadItem[]): Promise<AcceptedEvents> {
    return acceptEvents(this.#intake, items, { maySpeakFor: () => true });
  }

  ask(wish: ClearanceWish): Promise<ClearanceAnswer | 'other-body'> {
    return grantClearance(this.#deps, wish);
  }

  async giveBack(wish: ReturnClearance): Promise<void> {
    await returnClearance(this.#deps, wish);
  }
}
