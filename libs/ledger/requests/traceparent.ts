/** https://www.w3.org/TR/trace-context/#traceparent-header, version 00. */
const TRACEPARENT = /^00-(?!0{32})([0-9a-f]{32})-(?!0{16})([0-9a-f]{16})-([0-9a-f]{2})$/;

/** Where somebody is in a trace. */
export interface TracePlace {
  /** 32 hex digits. */
  readonly traceId: string;
  /** 16 hex digits. */
  readonly spanId: string;
  /** Whether whoever said so records it. */
  readonly isSampled: boolean;
}

/** @returns undefined for what is none, or of a version that is not known */
export function parseTraceparent(text: string): TracePlace | undefined {
  const [, traceId, spanId, flags] = TRACEPARENT.exec(text) ?? [];
  if (traceId === undefined || spanId === undefined || flags === undefined) return undefined;
  return { traceId, spanId, isSampled: (Number.parseInt(flags, 16) & 1) === 1 };
}

/** Links of one span: a fold may be of five hundred requests. */
export const MOST_LINKS = 32;

/** Those that are recorded by whoever said so. */
export function sampledOf(traceparents: readonly (string | null | undefined)[]): readonly string[] {
  return traceparents.flatMap((text) => (text != null && parseTraceparent(text)?.isSampled === true ? [text] : []));
}
