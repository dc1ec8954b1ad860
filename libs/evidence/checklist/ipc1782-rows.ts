import { ChecklistRow } from './checklist-row.js';

const standard = 'ipc1782';

/**
 * Levels of IPC-1782, for material and for process, from basic to comprehensive. They stand here as intent: what each was
 * meant to make possible, and how far an export goes towards it. Which level is agreed is between house and customer.
 */
export const IPC1782_ROWS: readonly ChecklistRow[] = [
  {
    ...{ standard, clause: '5.1, material, levels 1 and 2' },
    asks: 'Which lots of material went into an order, and then into a unit.',
    shownIn: { json: ['/unit/workOrder', '/entries/*/data/lots'], pdf: 'Parts in and out' },
    howToCheck:
      'Take the lot of a paste or flux from a step, and ask for a containment by that lot: the unit must be in it.',
    besides: 'Have stations send lots with each step; those that send none leave a gap that the export shows as a gap.',
  },
  {
    ...{ standard, clause: '5.1, material, levels 3 and 4' },
    asks: 'Which piece sits at which place of which board, and where each was before.',
    shownIn: {
      json: ['/unit/sites/*/refdes', '/unit/sites/*/device', '/devices/*/device', '/devices/*/entries'],
      pdf: 'Parts in and out',
    },
    howToCheck: 'Follow one device by its name from receipt to the site, and one that was taken off to where it went.',
    besides: 'Label devices that are replaced. Parts that are not reworked are not in the book.',
  },
  {
    ...{ standard, clause: '5.1, process, levels 1 and 2' },
    asks: 'Which steps a unit went through, when and where, and what went wrong.',
    shownIn: {
      json: ['/entries/*/type', '/entries/*/time', '/entries/*/event/source', '/holds/*/reason'],
      pdf: 'Route',
    },
    howToCheck: 'Read the route from receipt to shipment and ask about every gap in time.',
    besides: 'Have every station post what it does, by itself where it can.',
  },
  {
    ...{ standard, clause: '5.1, process, levels 3 and 4' },
    asks: 'With what settings and readings each step was done, down to the curve.',
    shownIn: {
      json: [
        '/entries/*/data/profile/revision',
        '/entries/*/data/heat/thermocouples/*/peakC',
        '/entries/*/data/heat/trace',
        '/traces/*/contentHash',
      ],
      pdf: 'Heats',
    },
    howToCheck: 'Ask for the trace file of a heat; its SHA-256 is the one in the export.',
    besides: 'Fix thermocouples where they count. Without one, the book infers and says so.',
  },
];
