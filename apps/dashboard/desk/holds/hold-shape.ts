import type { Schemas } from '../api/client.js';

/** A hold with all that explains it. */
export type ExplainedHold = Schemas['ExplainedHold'];
export type Decision = Schemas['Disposition']['decision'];

type Action = NonNullable<ExplainedHold['actions']>[number];

/** Whether an action can be done now, by whoever asked; undefined for those who work on no holds. */
export function actionOf({ actions }: Pick<ExplainedHold, 'actions'>, action: Action['action']): Action | undefined {
  return actions?.find((one) => one.action === action);
}

/** Its event waits to be judged, and only that ends it. */
export function waitsForItsEvent({ reason, causeGone, state }: ExplainedHold): boolean {
  return state === 'open' && reason === 'event-parked' && !causeGone;
}

/** The disposition in force. */
export function inForce({ dispositions }: Pick<ExplainedHold, 'dispositions'>): Schemas['Disposition'] | undefined {
  return dispositions.at(-1);
}

/** Equal for equal subjects, whatever the order of their members. */
export function subjectKeyOf(subject: object): string {
  return JSON.stringify(Object.entries(subject).sort(([a], [b]) => (a < b ? -1 : 1)));
}
