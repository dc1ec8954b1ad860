/** The beginning of the keys of what is out of date. */
export type OutdatedKey = readonly (string | object)[];

type Message = Readonly<Record<string, unknown>>;

/**
 * What a message of the stream makes out of date.
 * @param data the message's JSON; what cannot be read makes nothing out of date
 */
export function outdatedBy(name: 'hold' | 'entry' | 'clearance', data: string): readonly OutdatedKey[] {
  const message = read(data);
  if (name === 'hold')
    return [['holds'], ['hold-summary'], ['hold', text(message, 'id')], ...aboutSubject(message), ['stations']];
  if (name === 'clearance') return [['clearances'], ...aboutSubject(message)];
  return [['units'], ['stations'], ['ledger', text(message, 'stream')], ...aboutSubject(message)];
}

/** Boards and devices that a message is about: its subject, and the board that a hold came to light on. */
function aboutSubject(message: Message): OutdatedKey[] {
  const about = [message, message['subject'], message['unit']].filter(isMessage);
  return about.flatMap((one) => {
    const [assembly, serial, device] = [text(one, 'assembly'), text(one, 'serial'), text(one, 'device')];
    return [
      ...(assembly !== '' && serial !== '' ? [['unit', `${assembly}/${serial}`]] : []),
      ...(device !== '' ? [['device', device]] : []),
    ];
  });
}

function read(data: string): Message {
  try {
    const value: unknown = JSON.parse(data);
    return isMessage(value) ? value : {};
  } catch {
    return {};
  }
}

function isMessage(value: unknown): value is Message {
  return typeof value === 'object' && value !== null;
}

function text(message: Message, key: string): string {
  const value = message[key];
  return typeof value === 'string' ? value : '';
}
