/** What happened when, as one number: two runs of the same story have the same. FNV-1a, 32 bit, twice with other beginnings. */
export class TraceHash {
  #low = 0x811c9dc5;
  #high = 0x9747b28c;
  /** Told of every step, where somebody wants to read them. */
  listener: ((ms: number, what: string) => void) | undefined;

  add(ms: number, what: string): void {
    this.#mix(Math.round(ms * 1000) | 0);
    for (let at = 0; at < what.length; at += 1) this.#mix(what.charCodeAt(at));
    this.listener?.(ms, what);
  }

  /** 16 hex digits. */
  digest(): string {
    return [this.#high, this.#low].map((half) => (half >>> 0).toString(16).padStart(8, '0')).join('');
  }

  #mix(code: number): void {
    this.#low = Math.imul(this.#low ^ code, 0x01000193);
    this.#high = Math.imul(this.#high ^ code, 0x01000193) ^ (this.#low >>> 15);
  }
}
