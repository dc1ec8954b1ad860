import { BookDeps } from '../fold/book-deps.js';
import { retell } from '../fold/retell.js';

/** Judges the heats again that named a trace before it was there. Harmless to repeat. */
export async function traceArrived(deps: BookDeps, name: string): Promise<void> {
  await retell(deps, await deps.traces.subjectsOf(name), { trace: name });
}
