import { compareText } from '../../../libs/domain/events/event-order.js';
import { DemoItem, DemoPost } from './demo-post.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';

const GREATEST_BATCH = 20;

function inOrder(events: readonly StationCloudEvent[]): StationCloudEvent[] {
  return [...events].sort(
    (a, b) => compareText(a.time, b.time) || compareText(a.source, b.source) || compareText(a.id, b.id),
  );
}

function stationOf(event: StationCloudEvent): string {
  return event.source.slice('/stations/'.length);
}

/** Puts events into posts as they happened: what one station has to say in a row goes as a batch. */
export function postsOf(events: readonly StationCloudEvent[]): DemoPost[] {
  const runs: StationCloudEvent[][] = [];
  for (const event of inOrder(events)) {
    const run = runs.at(-1);
    if (run?.[0]?.source === event.source && run.length < GREATEST_BATCH) run.push(event);
    else runs.push([event]);
  }
  return runs.flatMap((run) => {
    const [first] = run;
    return first === undefined
      ? []
      : [
          post(
            stationOf(first),
            run.map((event) => ({ expected: 'accepted', event })),
          ),
        ];
  });
}

export function post(station: string, events: readonly DemoItem[]): DemoPost {
  return { station, body: events.length === 1 ? 'single' : 'batch', events };
}

/** A station that heard no answer posts once more. */
export function repeated({ station, events }: DemoPost): DemoPost {
  return post(
    station,
    events.flatMap((item) =>
      item.expected === 'accepted' ? [{ expected: 'duplicate' as const, event: item.event }] : [],
    ),
  );
}
