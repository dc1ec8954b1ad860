import { answerTopic, EVENTS_SUBSCRIPTION, refusedTopic, stationOf } from './station-topics.js';

describe('the topics of a station', () => {
  it.each<[string, string | undefined]>([
    ['heatbook/stations/HG-1/events', 'HG-1'],
    ['heatbook/stations/a.b_c:d/events', 'a.b_c:d'],
    ['heatbook/stations/HG-1/answers', undefined],
    ['heatbook/stations/HG-1/events/more', undefined],
    ['other/heatbook/stations/HG-1/events', undefined],
    ['heatbook/stations//events', undefined],
    ['heatbook/stations/two words/events', undefined],
    ['heatbook/stations/../events', undefined],
    [`heatbook/stations/${'x'.repeat(65)}/events`, undefined],
  ])('name it where they are for its events: %s', (topic, station) => {
    expect(stationOf(topic)).toBe(station);
  });

  it('are taken in shares', () => {
    expect(EVENTS_SUBSCRIPTION).toBe('$share/heatbook/heatbook/stations/+/events');
  });

  it('are where it is answered, and what it asks for only if it is below them', () => {
    const own = 'heatbook/stations/HG-1/answers';
    expect(answerTopic('HG-1')).toBe(own);
    expect(answerTopic('HG-1', `${own}/bench-2`)).toBe(`${own}/bench-2`);
    for (const foreign of ['heatbook/stations/HG-2/answers', `${own}x`, `${own}/+`, `${own}/#`, '$SYS/x', '']) {
      expect(answerTopic('HG-1', foreign)).toBe(own);
    }
    expect(refusedTopic('HG-1')).toBe('heatbook/stations/HG-1/refused');
  });
});
