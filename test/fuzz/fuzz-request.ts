/** One request as it is sent. */
export interface FuzzRequest {
  /** What is wrong with it, such as `body: deep`. */
  readonly kind: string;
  /** The route that it was made from, as `PUT /v1/parts/{part}`. */
  readonly route: string;
  readonly method: string;
  /** Path and query, as they are sent. */
  readonly target: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: Buffer;
  /** What must not come back in an answer: the key or the password that went along. */
  readonly secrets: readonly string[];
}

/** What came back. */
export interface FuzzAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  /** At most the first 64 KiB. */
  readonly text: string;
  readonly elapsedMs: number;
}
