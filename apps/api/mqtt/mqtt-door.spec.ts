import { AcceptedEvents, Speaker } from '../../../libs/ledger/intake/accept-events.js';
import { InboxFull } from '../../../libs/ledger/intake/inbox-load.js';
import { ReadItem } from '../../../libs/ledger/intake/read-events.js';
import { sampleEvent } from '../spec-support/sample-setup.js';
import { MqttDoor, MqttMessage } from './mqtt-door.js';

const TOPIC = 'heatbook/stations/HG-1/events';
const ANSWERS = 'heatbook/stations/HG-1/answers';

/** A door before a desk that takes every event of the speaker's own and says which it was asked to take. */
function doorBench() {
  const asked: { items: readonly ReadItem[]; speaker: Speaker }[] = [];
  const outcomes: string[] = [];
  const lines: string[] = [];
  let failure: Error | undefined;
  const door = new MqttDoor({
    desk: {
      take: (items, speaker) => {
        asked.push({ items, speaker });
        if (failure !== undefined) return Promise.reject(failure);
        const answers = items.map((item) =>
          item.ok
            ? { id: item.event.id, state: 'accepted' as const }
            : { id: item.id, state: 'rejected' as const, problem: item.problem },
        );
        const rejected = answers.filter(({ state }) => state === 'rejected').length;
        return Promise.resolve({ accepted: items.length - rejected, duplicates: 0, rejected, items: answers });
      },
    },
    metrics: {
      countMessage: (outcome) => void outcomes.push(outcome),
      countEvents: ({ rejected }) => void outcomes.push(`${rejected} rejected`),
    },
    log: { warn: (message, details) => void lines.push(`${message} ${JSON.stringify(details)}`) },
  });
  const take = (payload: string | Buffer, over: Partial<MqttMessage> = {}) =>
    door.take({ topic: TOPIC, payload: Buffer.from(payload), ...over });
  return { take, asked, outcomes, lines, failWith: (error: Error) => (failure = error) };
}

function answerIn(replies: Awaited<ReturnType<MqttDoor['take']>>): AcceptedEvents {
  return JSON.parse(String(replies[0]?.payload)) as AcceptedEvents;
}

describe('the door for MQTT', () => {
  it('lets the topic say who speaks, and answers there with what the message brought along', async () => {
    const { take, asked, outcomes, lines } = doorBench();
    const correlationData = Buffer.from('7');
    const event = sampleEvent('heatbook.unit.received.v1', {});
    const replies = await take(JSON.stringify(event), { correlationData });
    expect(replies).toMatchObject([{ topic: ANSWERS, contentType: 'application/json', correlationData }]);
    expect(answerIn(replies)).toMatchObject({ accepted: 1, items: [{ id: event['id'] }] });
    expect(
      asked.map(({ speaker }) => [speaker.maySpeakFor('/stations/HG-1'), speaker.maySpeakFor('/stations/HG-2')]),
    ).toEqual([[true, false]]);
    expect([outcomes, lines]).toEqual([['taken'], []]);
  });

  it('answers where the message asks for, as long as that is below its own topic', async () => {
    const { take } = doorBench();
    const topics = [`${ANSWERS}/bench-2`, 'heatbook/stations/HG-2/answers/x'].map(async (responseTopic) => {
      return (await take('[]', { responseTopic })).map(({ topic }) => topic);
    });
    expect(await Promise.all(topics)).toEqual([[`${ANSWERS}/bench-2`], [ANSWERS]]);
  });

  it('hands on as it came what is refused in part, and logs no value of it', async () => {
    const { take, outcomes, lines } = doorBench();
    const good = sampleEvent('heatbook.unit.received.v1', {});
    const bad = { ...good, id: 'bad', data: { priorReflows: 'SECRET', operator: 'ann' } };
    const payload = JSON.stringify([good, bad]);
    const replies = await take(payload, { contentType: 'application/cloudevents-batch+json' });
    expect(answerIn(replies)).toMatchObject({ accepted: 1, rejected: 1 });
    expect(replies[1]).toMatchObject({
      topic: 'heatbook/stations/HG-1/refused',
      contentType: 'application/cloudevents-batch+json',
    });
    expect(String(replies[1]?.payload)).toBe(payload);
    expect(outcomes).toEqual(['refused']);
    expect(lines).toEqual([expect.stringMatching(/"station":"HG-1".*"wrong-shape".*"\/data\/priorReflows"/)]);
    expect(lines.join()).not.toMatch(/SECRET|ann/);
  });

  it.each<[string, string | Buffer, Partial<MqttMessage>, string]>([
    ['bytes that are no text', Buffer.from([0xff]), {}, 'unreadable-json'],
    ['a list that is broken', '[{"id":', {}, 'unreadable-json'],
    ['another type', '{}', { contentType: 'text/plain' }, 'unknown-media-type'],
    ['more than may be', ' '.repeat(8 * 1024 * 1024 + 1), {}, 'too-large'],
  ])('answers a message as a whole, with one item and without asking the desk: %s', async (_, payload, over, code) => {
    const { take, asked, outcomes } = doorBench();
    const replies = await take(payload, over);
    const type = `urn:heatbook:problem:${code}`;
    expect(answerIn(replies)).toMatchObject({ accepted: 0, rejected: 1, items: [{ id: null, problem: { type } }] });
    expect(replies).toHaveLength(2);
    expect([asked, outcomes]).toEqual([[], ['1 rejected', 'refused']]);
  });

  it('answers nobody on a topic that is of no station', async () => {
    const { take, asked, outcomes, lines } = doorBench();
    expect(await take('{}', { topic: 'heatbook/stations/no name/events' })).toEqual([]);
    expect([asked, outcomes, lines.length]).toEqual([[], ['refused'], 1]);
  });

  it('fails where the intake does, so that the message comes again', async () => {
    const { take, failWith, outcomes } = doorBench();
    failWith(new InboxFull('inbox-full'));
    await expect(take('{}')).rejects.toThrow(InboxFull);
    expect(outcomes).toEqual([]);
  });
});
