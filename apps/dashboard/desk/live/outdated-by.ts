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

function aboutSubject(message: Message): OutdatedKey[] {
  const subject = isMessage(message['subject']) ? message['subject'] : message;
  const [assembly, serial, device] = ['assembly', 'serial', 'device'].map((key) => text(subject, key));
  return [
    ...(assembly !== '' && serial !== '' ? [['unit', `${assembly}/${serial}`]] : []),
    ...(device === '' || device === undefined ? [] : [['device', device]]),
  ];
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
