/** The request that brought something, as whoever sent it finds it again. */
export interface RequestRef {
  /** As its answer had it in X-Request-Id. */
  readonly id: string;
  /** W3C, where it is part of a trace. */
  readonly traceparent: string | null;
}
