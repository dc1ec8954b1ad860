/** What grouping looks at of a parked event. */
interface ParkedLike {
  readonly parkedAt: string;
  readonly reason: { readonly code: string };
}

export interface ParkedGroup<Event> {
  readonly code: string;
  /** The oldest first. */
  readonly events: readonly Event[];
}

/** Parked events by what is the matter with them: the reason that most have first. */
export function parkedGroups<Event extends ParkedLike>(events: readonly Event[]): readonly ParkedGroup<Event>[] {
  const groups = new Map<string, Event[]>();
  for (const event of events) {
    const same = groups.get(event.reason.code);
    if (same === undefined) groups.set(event.reason.code, [event]);
    else same.push(event);
  }
  return [...groups]
    .map(([code, same]) => ({ code, events: same.toSorted((a, b) => Date.parse(a.parkedAt) - Date.parse(b.parkedAt)) }))
    .toSorted((a, b) => b.events.length - a.events.length || (a.code < b.code ? -1 : 1));
}
