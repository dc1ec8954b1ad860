import { plannedWords, warningWords, withEntryWords } from './unit-text.js';

it('Types of events in a text are said in words; what has none stays', () => {
  expect(withEntryWords('heatbook.device.reballed.v1 was done without clearance: it names none.')).toBe(
    '“Device reballed” was done without clearance: it names none.',
  );
  expect(withEntryWords('heatbook.device.lent.v1 came')).toBe('“heatbook.device.lent.v1” came');
  expect(withEntryWords('said by heatbook itself.')).toBe('said by heatbook itself.');
});

it('Warnings are said by their own words, by those of a limit, or by their code', () => {
  expect(warningWords('neighbour-possible')).toBe('A neighbour may have been heated');
  expect(warningWords('floor-life')).toBe('Floor life ran out');
  expect(warningWords('new-kind')).toBe('new-kind');
});

it('A planned step is what is to be done', () => {
  expect(plannedWords('heatbook.device.removed.v1')).toBe('remove the device');
  expect(plannedWords('heatbook.device.lent.v1')).toBe('heatbook.device.lent.v1');
});
