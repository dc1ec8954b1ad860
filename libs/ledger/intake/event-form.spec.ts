import { EventForm, eventForm, readEvents } from './event-form.js';

describe('the form of a message of events', () => {
  it.each<[string, string, EventForm | undefined]>([
    ['application/cloudevents+json', '{}', 'single'],
    ['Application/CloudEvents-Batch+JSON; charset=utf-8', '[]', 'batch'],
    ['application/x-ndjson', '{}', 'stream'],
    ['application/json', ' {}', 'single'],
    ['application/json;charset=utf-8', '\n[', 'batch'],
    // What the type says stands, whatever the text begins with.
    ['application/cloudevents+json', '[]', 'single'],
    ['text/plain', '{}', undefined],
    ['constructor', '{}', undefined],
    ['', '{}', undefined],
  ])('of type "%s" with text %j is %s', (type, text, form) => {
    expect(eventForm(type, text)).toBe(form);
  });

  it('decides how it is read', () => {
    const counts = (['single', 'batch', 'stream'] as const).map((form) => {
      const reading = readEvents(form, form === 'batch' ? '[{},{}]' : '{}\n{}');
      return reading.ok ? reading.items.length : undefined;
    });
    expect(counts).toEqual([1, 2, 2]);
  });
});
