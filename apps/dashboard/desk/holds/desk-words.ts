import { reasonWords, stageWords } from '../words/words.js';
import { type Age, AGES, type DeskFilter, ME, type Narrowing, NARROWING } from './desk-filter.js';

const AGE_WORDS: Readonly<Record<Age, string>> = {
  underOneDay: 'Under a day',
  oneToSevenDays: '1 to 7 days',
  overSevenDays: 'Over 7 days',
};

/** A band of age in words. */
export function ageWords(age: string): string {
  const known = AGES.find((one) => one === age);
  return known === undefined ? age : AGE_WORDS[known];
}

const FIELD_WORDS: Readonly<Record<Narrowing, string>> = {
  stage: 'Stage',
  overdue: 'Due date',
  assignee: 'With',
  age: 'Age',
  reason: 'Reason',
  customer: 'Customer',
  assembly: 'Assembly',
  serial: 'Serial',
  device: 'Device',
  subjectKind: 'What is held',
  station: 'Station',
  operator: 'Operator',
  containment: 'Containment',
};

/** What is narrowed down by, in a word. */
export function fieldWords(field: Narrowing): string {
  return FIELD_WORDS[field];
}

const VALUE_WORDS: Partial<Record<Narrowing, (value: string) => string>> = {
  stage: stageWords,
  overdue: () => 'passed',
  assignee: (value) => (value === ME ? 'me' : value),
  age: ageWords,
  reason: reasonWords,
  containment: (value) => value.slice(0, 8),
};

/** What narrows a filter down, each with its words: `Age: over 7 days`. */
export function chipsOf(filter: DeskFilter): readonly { readonly field: Narrowing; readonly words: string }[] {
  return NARROWING.flatMap((field) => {
    const value = filter[field];
    if (value === undefined) return [];
    return [{ field, words: `${FIELD_WORDS[field]}: ${(VALUE_WORDS[field] ?? String)(value)}` }];
  });
}

/** `1 hold`, `12 holds`; numbers in groups of three, so that 50,000 is read and not counted. */
export function holdsInWords(count: number): string {
  return `${groupsOf(count)} ${count === 1 ? 'hold' : 'holds'}`;
}

/** `50,000`. */
export function groupsOf(count: number): string {
  return count.toLocaleString('en');
}
