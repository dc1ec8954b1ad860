import { ChecklistRow } from './checklist-row.js';

const standard = 'part11';

/** Paragraphs of 21 CFR Part 11 that an export has to do with. 11.10 (i) and (j), about training and policies, no export can show. */
export const PART11_ROWS: readonly ChecklistRow[] = [
  {
    ...{ standard, clause: '11.10(a)' },
    asks: 'The system is validated, and a record that is invalid or was altered can be told.',
    shownIn: { json: ['/entries/*/hash', '/headHash', '/seal', '/log/inclusion'], pdf: 'Verification' },
    howToCheck: 'Check the file; then change one character of a copy and check that: the finding names the entry.',
    besides:
      'Validate the system for its use, in your house, and keep the report. This is the house’s duty and nobody else’s.',
  },
  {
    ...{ standard, clause: '11.10(b)' },
    asks: 'Accurate and complete copies can be had, for people and for machines.',
    shownIn: {
      json: ['/count', '/headHash', '/audience/leftOut', '/devices/*/count'],
      pdf: 'Identity and configuration',
    },
    howToCheck:
      'Compare number of entries and head hash of the JSON with those printed in the PDF; read what the export says it leaves out.',
    besides: 'Have an account with role auditor ready for whoever inspects.',
  },
  {
    ...{ standard, clause: '11.10(c)' },
    asks: 'Records can be found and read for as long as they must be kept.',
    shownIn: { json: ['/exportedAt', '/entries/*/recordedAt'], pdf: 'Route' },
    howToCheck: 'Ask for a unit of several years ago, and check that export.',
    besides: 'Set retention for each customer, back up, and try the restoring.',
  },
  {
    ...{ standard, clause: '11.10(d)' },
    asks: 'Only those come in who may.',
    shownIn: { json: ['/entries/*/actor', '/audience/for'], pdf: 'Route' },
    howToCheck:
      'An entry names the station or person it came from; the record of access, which is not in an export, names who was refused.',
    besides: 'Give out keys and accounts, take them back, and look through the record of access.',
  },
  {
    ...{ standard, clause: '11.10(e)' },
    asks: 'A trail that the computer makes says when and by whom something was entered, and a change hides nothing.',
    shownIn: {
      json: ['/entries/*/recordedAt', '/entries/*/actor', '/entries/*/seq', '/entries/*/prevHash'],
      pdf: 'Route',
    },
    howToCheck: 'Numbers run without gap. An annulled event is still there, beside the signed entry that strikes it.',
    besides: 'Keep the clocks of stations and server right.',
  },
  {
    ...{ standard, clause: '11.10(f)' },
    asks: 'Where steps have an order, the system checks it.',
    shownIn: { json: ['/entries/*/effects', '/holds/*/reason'], pdf: 'Open points' },
    howToCheck: 'A step out of order has a hold sequence-broken; a heat without clearance has a warning.',
    besides: 'Let stations ask for clearance before a heat, and have operators heed a refusal.',
  },
  {
    ...{ standard, clause: '11.10(g)' },
    asks: 'Only who has the authority signs, alters a record or does the operation.',
    shownIn: {
      json: ['/holds/*/dispositions/*/approved', '/holds/*/release/approved', '/configuration/*/by'],
      pdf: 'Holds',
    },
    howToCheck: 'Whoever decided has not released as well; a concession is signed by an approver.',
    besides: 'Give roles by authority, and see that nobody uses another’s account.',
  },
  {
    ...{ standard, clause: '11.10(h)' },
    asks: 'Where it matters, it is checked that what comes in comes from a device that may send it.',
    shownIn: { json: ['/entries/*/event/source'], pdf: 'Route' },
    howToCheck: 'Each fact names the station it came from; the key of a station may speak for that station alone.',
    besides: 'Keep the key of a station in the station, and issue another when it leaves.',
  },
  {
    ...{ standard, clause: '11.10(k)' },
    asks: 'Documents by which the system is run are under control: who gets them, and each change in its order in time.',
    shownIn: {
      json: ['/configuration/*/revision', '/configuration/*/at', '/entries/*/data/profile/revision'],
      pdf: 'Identity and configuration',
    },
    howToCheck:
      'Each limit, part, profile and assembly has its revisions with date and author; an entry names the version it was judged by.',
    besides: 'Control the manuals and procedures themselves; the book has its own setup only.',
  },
  {
    ...{ standard, clause: '11.50(a)' },
    asks: 'A signature shows the printed name, date and time, and what is meant by it.',
    shownIn: {
      json: [
        '/people/*/printedName',
        '/holds/*/dispositions/*/signature/at',
        '/holds/*/dispositions/*/signature/meaning',
      ],
      pdf: 'Holds',
    },
    howToCheck:
      'Name, time and meaning stand beside each signature. An erased name is shown as erased, and its pseudonym stays.',
    besides: 'Make sure who is who before an account is given.',
  },
  {
    ...{ standard, clause: '11.50(b)' },
    asks: 'These are controlled like the record and are in every form that people read.',
    shownIn: { json: ['/entries/*/data/signature/meaning', '/entries/*/data/signed'], pdf: 'Holds' },
    howToCheck: 'Compare a signature in the PDF with the same in the JSON, whose entry is under the chain of hashes.',
    besides: 'Hand on the PDF whole.',
  },
  {
    ...{ standard, clause: '11.70' },
    asks: 'A signature is bound to its record and cannot be moved to another.',
    shownIn: { json: ['/entries/*/data/signature/contentHash', '/entries/*/data/signed'], pdf: 'Verification' },
    howToCheck:
      'The SHA-256 of the canonical form of signed is contentHash; signed names the act, the hold, the person and the time.',
    besides: 'Nothing: it is in the file, or the file does not hold.',
  },
];
