import { Difference } from '../../../libs/ledger/recount/difference.js';
import { RecountCounts } from '../../../libs/ledger/recount/recount-counts.js';

interface Printer {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

/** Prints a recount as it goes on: in lines for people, or as one JSON object. */
export class RecountReport {
  #differences = 0;
  readonly #begun = performance.now();

  constructor(
    private readonly json: boolean,
    private readonly out: Printer,
    private readonly side: Printer,
  ) {}

  readonly tell = (difference: Difference): void => {
    this.#differences += 1;
    if (this.json) {
      this.out.write(`${this.#differences === 1 ? '{"differences":[\n' : ',\n'}${JSON.stringify(difference)}`);
      return;
    }
    const { subject, what, kept, recomputed } = difference;
    this.#clear();
    this.out.write(`${subject}: ${what}: kept ${kept}; recomputed ${recomputed}\n`);
  };

  /** On a terminal, in a line that is written over. */
  readonly progress = ({ ledgers, entries }: RecountCounts): void => {
    if (this.side.isTTY === true) this.side.write(`\r${String(ledgers)} ledgers, ${String(entries)} entries\u001b[K`);
  };

  /** @returns how many differences there were. */
  end(counts: RecountCounts): number {
    this.#clear();
    const seconds = (performance.now() - this.#begun) / 1000;
    if (this.json) {
      const list = this.#differences === 0 ? '{"differences":[' : '\n';
      this.out.write(`${list}],"count":${this.#differences},"counts":${JSON.stringify(counts)}}\n`);
      return this.#differences;
    }
    const { ledgers, entries, states, holds, clearances, events, marks, leaves } = counts;
    this.out.write(
      `Recounted ${entries} entries of ${ledgers} ledgers (${states} states, ${holds} holds, ${clearances} clearances, ` +
        `${events} accepted events, ${marks} marks, ${leaves} leaves of the log) in ${seconds.toFixed(1)} s, ` +
        `${Math.round(entries / seconds)} entries/s.\n` +
        (this.#differences === 0 ? 'Nothing differs.\n' : `Differences: ${this.#differences}.\n`),
    );
    return this.#differences;
  }

  #clear(): void {
    if (this.side.isTTY === true) this.side.write('\r\u001b[K');
  }
}
