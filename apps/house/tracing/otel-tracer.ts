import {
  type Context,
  type Link,
  ROOT_CONTEXT,
  type Span as OtelSpan,
  SpanKind,
  SpanStatusCode,
  trace,
  TraceFlags,
  type Tracer as OtelApiTracer,
} from '@opentelemetry/api';
import { Span, SpanAbout, Tracer } from '../../../libs/ledger/ports/tracer.js';
import { parseTraceparent } from '../../../libs/ledger/requests/traceparent.js';

const KINDS = { server: SpanKind.SERVER, producer: SpanKind.PRODUCER, consumer: SpanKind.CONSUMER } as const;
/** Of an error's text: what came with it may be long, and is in the log. */
const MOST_REASON = 200;

/**
 * Spans of OpenTelemetry. What they are part of is handed over by name (traceparent), never by what happens to be at work:
 * that costs nothing per await, and holds over the queue.
 */
export class OtelTracer implements Tracer {
  constructor(private readonly tracer: OtelApiTracer) {}

  begin(name: string, { kind, parent, links = [], sinceMs, facts }: SpanAbout = {}): Span {
    const options = {
      kind: kind === undefined ? SpanKind.INTERNAL : KINDS[kind],
      links: links.flatMap(linkTo),
      ...(facts && { attributes: facts }),
      ...(sinceMs !== undefined && { startTime: sinceMs }),
    };
    return new OneSpan(this.tracer.startSpan(name, options, contextOf(parent)));
  }
}

class OneSpan implements Span {
  readonly traceparent: string;
  readonly isRecorded: boolean;
  #ended = false;

  constructor(private readonly span: OtelSpan) {
    const { traceId, spanId, traceFlags } = span.spanContext();
    this.traceparent = `00-${traceId}-${spanId}-${traceFlags.toString(16).padStart(2, '0')}`;
    this.isRecorded = span.isRecording();
  }

  note(facts: Readonly<Record<string, string | number | boolean>>): void {
    if (!this.#ended) this.span.setAttributes(facts);
  }

  end(error?: unknown): void {
    if (this.#ended) return;
    this.#ended = true;
    if (error !== undefined) this.span.setStatus({ code: SpanStatusCode.ERROR, message: reasonOf(error) });
    this.span.end();
  }
}

function contextOf(parent: string | undefined): Context {
  const place = placeOf(parent ?? '');
  return place === undefined ? ROOT_CONTEXT : trace.setSpanContext(ROOT_CONTEXT, place);
}

function linkTo(traceparent: string): Link[] {
  const context = placeOf(traceparent);
  return context === undefined ? [] : [{ context }];
}

function placeOf(traceparent: string) {
  const place = parseTraceparent(traceparent);
  if (place === undefined) return undefined;
  const { traceId, spanId, isSampled } = place;
  return { traceId, spanId, traceFlags: isSampled ? TraceFlags.SAMPLED : TraceFlags.NONE, isRemote: true };
}

function reasonOf(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).slice(0, MOST_REASON);
}
