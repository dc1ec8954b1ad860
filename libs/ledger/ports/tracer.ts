/** What is noted of a span: few, short, never a key or a name of a person. */
export type SpanFacts = Readonly<Record<string, string | number | boolean>>;

export interface SpanAbout {
  /** What it is beside other services; inside this one unless told otherwise. */
  readonly kind?: 'server' | 'producer' | 'consumer';
  /** W3C traceparent of what it is a part of; a trace of its own without one. */
  readonly parent?: string | undefined;
  /** W3C traceparents of what led to it besides. */
  readonly links?: readonly string[];
  /** When it began, ms since 1970, where that is over already. */
  readonly sinceMs?: number;
  readonly facts?: SpanFacts;
}

/** A piece of work in a trace. */
export interface Span {
  /** W3C: how it is handed on. */
  readonly traceparent: string;
  /** False where sampling left it out: then nobody ever sees it. */
  readonly isRecorded: boolean;
  note(facts: SpanFacts): void;
  /** @param error what the work ended with, where it failed */
  end(error?: unknown): void;
}

/** Where spans go. None of it throws, waits, or keeps more than so many spans, whatever becomes of those that are handed over. */
export interface Tracer {
  begin(name: string, about?: SpanAbout): Span;
}

/** Work as a span, where there is a tracer. */
export async function inSpan<T>(
  tracer: Tracer | undefined,
  name: string,
  about: SpanAbout,
  work: () => Promise<T>,
): Promise<T> {
  if (tracer === undefined) return work();
  const span = tracer.begin(name, about);
  try {
    const result = await work();
    span.end();
    return result;
  } catch (error) {
    span.end(error);
    throw error;
  }
}
