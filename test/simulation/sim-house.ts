import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { LogStore } from '../../libs/ledger/ports/log-store.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { PlantedFault } from './planted-fault.js';
import { ProcessParts } from './process-parts.js';
import { SimApi } from './sim-api.js';
import { SimCarrier } from './sim-carrier.js';
import { NEVER, SimProcess, SimWorld } from './sim-process.js';
import { depsOf, logDepsOf } from './sim-shop.js';
import { SimStore } from './sim-store.js';
import { startSimWorker } from './start-sim-worker.js';
import { StoreLease } from './store-lease.js';
import { StoreLink } from './store-link.js';
import { wired } from './wired.js';
import { WiredStore } from './wired-store.js';

/** A killed process is back after up to so many ms. */
const RESTART_MS = 3000;

/** Apis and workers over one store and one carrier, each started anew when it dies. */
export class SimHouse implements ProcessParts {
  readonly carrier: SimCarrier;
  readonly link: StoreLink;
  /** Api processes as they are now. */
  readonly apis: SimApi[] = [];
  /** What was logged as an error: the weather is none. */
  readonly errors: string[] = [];
  kills = 0;

  constructor(
    readonly world: SimWorld,
    private readonly store: SimStore,
    private readonly setup: SetupBook,
    readonly planted: PlantedFault,
  ) {
    this.carrier = new SimCarrier(world);
    this.link = new StoreLink(world);
  }

  start({ apis, workers }: { readonly apis: number; readonly workers: number }): void {
    for (let n = 0; n < apis; n += 1) {
      this.#keepUp(`api-${String(n)}`, (process) => (this.apis[n] = new SimApi(this, process)));
    }
    for (let n = 0; n < workers; n += 1) {
      this.#keepUp(`worker-${String(n)}`, (process) => {
        startSimWorker(this, process);
      });
    }
  }

  depsOf(process: SimProcess): BookDeps {
    const { book: kept, tables } = this.store;
    const planted = this.planted.store?.(kept, tables, process) ?? kept;
    const book = new WiredStore(planted, process, this.link);
    const traces = wired(this.store.traces, process, this.link);
    const newId = (): string => this.#newId();
    return depsOf({ book, traces }, { setup: this.setup, clock: process.clock, newId, log: this.#log() });
  }

  logDepsOf(process: SimProcess): SiteLogDeps {
    const { store } = this.depsOf(process);
    const read = wired(this.store.read, process, this.link);
    return logDepsOf({ book: store, read, log: this.#logStore(process) }, process.clock, this.#log());
  }

  #keepUp(name: string, begin: (process: SimProcess) => void): void {
    const process = new SimProcess(name, this.world);
    process.onKilled(() => {
      this.kills += 1;
      this.world.time.after(this.world.dice.below(RESTART_MS), `${name} is started`, () => {
        this.#keepUp(name, begin);
      });
    });
    begin(process);
  }

  /** Its one transaction is taken part by part, as the book's are. */
  #logStore(process: SimProcess): LogStore {
    const { tables } = this.store;
    const log = this.planted.log?.(this.store.log, tables) ?? this.store.log;
    const whole = wired(log, process, this.link);
    const alone: LogStore['alone'] = async (work) => {
      const lease = new StoreLease(process, this.link);
      await process.step('alone');
      try {
        return await log.alone((tx) => lease.run(() => work(lease.over(tx))));
      } finally {
        if (!process.isUp) await NEVER;
      }
    };
    return new Proxy(whole, {
      get: (target, name) => (name === 'alone' ? alone : (Reflect.get(target, name) as unknown)),
    });
  }

  #newId(): string {
    const { dice } = this.world;
    const hex = Array.from({ length: 4 }, () =>
      dice
        .below(2 ** 32)
        .toString(16)
        .padStart(8, '0'),
    ).join('');
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
  }

  #log(): Log {
    return {
      info: () => undefined,
      warn: () => undefined,
      error: (message) => void this.errors.push(message),
    };
  }
}
