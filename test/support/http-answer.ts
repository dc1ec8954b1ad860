/** What an API answered, read to its end. */
export interface HttpAnswer {
  readonly status: number;
  readonly headers: Headers;
  // What came back is whatever the test makes of it.
  readonly body: Record<string, unknown>;
}
