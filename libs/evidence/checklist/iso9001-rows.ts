import { ChecklistRow } from './checklist-row.js';

const standard = 'iso9001';

/** Clauses of ISO 9001:2015 that the record of a unit has to do with. */
export const ISO9001_ROWS: readonly ChecklistRow[] = [
  {
    ...{ standard, clause: '8.5.2' },
    asks: 'What leaves the process is told apart, and where tracing is asked for, each piece by a name of its own.',
    shownIn: {
      json: ['/assembly', '/serial', '/unit/sites/*/device', '/configuration/*/body/customer'],
      pdf: 'Identity and configuration',
    },
    howToCheck: 'Hold assembly, serial and the labels of the devices against the board in your hand.',
    besides: 'Labels that stay on and can be read, and a rule for who may put them on.',
  },
  {
    ...{ standard, clause: '8.5.2' },
    asks: 'Throughout production it can be told what has passed its checks and what has not.',
    shownIn: { json: ['/unit/state', '/unit/sites/*/condition', '/entries/*/data/result'], pdf: 'Inspections' },
    howToCheck: 'Follow one site through its inspections: after its last placement each result must be a pass.',
    besides: 'Keep boards apart on the floor by what the book says of them.',
  },
  {
    ...{ standard, clause: '8.5.2' },
    asks: 'What is needed to trace a piece is kept.',
    shownIn: {
      json: ['/entries/*/data/lots', '/entries/*/data/operator', '/entries/*/event/source', '/devices/*/entries'],
      pdf: 'Route',
    },
    howToCheck:
      'Pick a step and ask for its station, operator, profile revision and lots; then the same for a device that came or went.',
    besides: 'Keep records of incoming lots: the book has the number that a station told it, not the certificate.',
  },
  {
    ...{ standard, clause: '8.7.1' },
    asks: 'What does not conform is found, kept from being used or delivered by mistake, and dealt with as its fault demands.',
    shownIn: { json: ['/holds/*/reason', '/holds/*/subject', '/holds/*/remedy', '/holds/*/decision'], pdf: 'Holds' },
    howToCheck:
      'For each hold read why it was raised, what was decided and when it was released; a unit shipped before that has a hold shipped-open.',
    besides: 'Set what is held apart bodily, and tell the customer where it has been delivered.',
  },
  {
    ...{ standard, clause: '8.7.1' },
    asks: 'After a correction it is verified anew.',
    shownIn: { json: ['/entries/*/type', '/entries/*/data/technique', '/entries/*/data/result'], pdf: 'Inspections' },
    howToCheck: 'Look for an inspection of the site after the step that set it right.',
    besides: 'Say in a procedure which inspection suffices after which repair.',
  },
  {
    ...{ standard, clause: '8.7.2' },
    asks: 'It is kept what did not conform, what was done, which concessions there were, and who decided.',
    shownIn: {
      json: [
        '/holds/*/evidence/summary',
        '/holds/*/dispositions/*/note',
        '/holds/*/dispositions/*/signature/by',
        '/holds/*/release/signature/by',
        '/configuration/*/body/customerReference',
      ],
      pdf: 'Holds',
    },
    howToCheck:
      'Each released hold has a decision and a release by somebody else; each concession has the customer’s own reference, which you can look up.',
    besides: 'Say who has the authority to decide and to approve, and give roles in the book accordingly.',
  },
  {
    ...{ standard, clause: '7.1.5.2' },
    asks: 'What measures is calibrated, and its state is known when it is used.',
    shownIn: {
      json: ['/configuration/*/body/calibrationDueAt', '/entries/*/event/source', '/entries/*/time'],
      pdf: 'Route',
    },
    howToCheck: 'Compare the time of a step with the due date that its station had in the revision then in force.',
    besides: 'Calibrate against traceable standards and keep the certificates: the book has the date alone.',
  },
  {
    ...{ standard, clause: '7.2' },
    asks: 'Whoever does work that counts is competent for it, and there is proof of it.',
    shownIn: { json: ['/configuration/*/body/qualifications', '/entries/*/data/operator'], pdf: 'Route' },
    howToCheck:
      'Take the operator of a step and see whether the skill was valid on that day; a warning says so where it was not.',
    besides: 'Train, assess, and keep the proof: the book has the skill and its last day.',
  },
  {
    ...{ standard, clause: '7.5.3' },
    asks: 'What is kept as proof is protected from being changed by mistake or otherwise.',
    shownIn: {
      json: ['/headHash', '/entries/*/prevHash', '/log/checkpoint', '/seal', '/statement'],
      pdf: 'Verification',
    },
    howToCheck: 'Check the file, with a checkpoint that you kept from before.',
    besides: 'Back the database up, guard the signing key, and say how long records are kept.',
  },
];
