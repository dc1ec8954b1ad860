import { ArchiveDeps } from './archive-deps.js';
import { ClaimedArchive, makeArchive } from './make-archive.js';

/** After an attempt that came to nothing an archive is left alone for so long. */
const TRY_AGAIN_MS = 5_000;
/** Whoever makes an archive and has not said so for so long is dead: it says so every three seconds. */
const SEEN_WITHIN_MS = 20_000;

/**
 * Makes archives, one at a time in this process: they take long, and folding what stations say must not wait for them. Other
 * processes make others.
 */
export class ArchiveMaker {
  readonly #stop = new AbortController();
  #working: Promise<void> | undefined;

  constructor(private readonly deps: ArchiveDeps) {}

  /**
   * Makes every archive that waits, and goes on with those whose maker is dead. Where it is at it already, returns at once:
   * the work under way comes to the others.
   */
  async work(): Promise<void> {
    if (this.#working !== undefined) return;
    const working = this.#makeAll().finally(() => {
      this.#working = undefined;
    });
    this.#working = working;
    await working;
  }

  /** Ends the work, and waits until what is under way has been let go of. */
  async stop(): Promise<void> {
    this.#stop.abort(new Error('the worker stops'));
    // Whoever began it hears of a failure.
    await this.#working?.catch(() => undefined);
  }

  async #makeAll(): Promise<void> {
    const { signal } = this.#stop;
    while (!signal.aborted) {
      const claimed = await this.#claim();
      if (claimed === undefined) return;
      await makeArchive(this.deps, claimed, signal);
    }
  }

  #claim(): Promise<ClaimedArchive | undefined> {
    const at = this.deps.clock.now();
    const before = (ms: number): string => new Date(Date.parse(at) - ms).toISOString();
    return this.deps.archives.claim(at, {
      triedBefore: before(TRY_AGAIN_MS),
      seenBefore: before(SEEN_WITHIN_MS),
    });
  }
}
