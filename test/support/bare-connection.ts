import { connect, Socket } from 'node:net';

/** What came back over a bare socket. */
export interface BareAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly text: string;
  readonly elapsedMs: number;
}

const PATIENCE_MS = 10_000;
const HEAD_END = '\r\n\r\n';

export function openSocket(url: string): Socket {
  const { hostname, port } = new URL(url);
  const socket = connect({ host: hostname, port: Number(port), allowHalfOpen: true });
  return socket.setEncoding('latin1');
}

/**
 * Sends bytes, one a character, over a socket of their own.
 * @param halfClosed whether it is said at once that no more is sent
 * @returns the first answer; undefined where the connection ends without one
 * @throws Error where neither comes within 10 s
 */
export async function bareAnswer(url: string, bytes: string, halfClosed = false): Promise<BareAnswer | undefined> {
  const began = performance.now();
  const text = await bareText(url, bytes, { halfClosed, isEnough: isWhole });
  return text === '' ? undefined : firstAnswer(text, performance.now() - began);
}

/**
 * Sends bytes over a socket of their own and reads until it is enough, or the other side ends.
 * @throws Error where neither is so within 10 s
 */
export function bareText(
  url: string,
  bytes: string,
  { halfClosed = false, isEnough = () => false }: { halfClosed?: boolean; isEnough?: (text: string) => boolean } = {},
): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    const socket = openSocket(url);
    const finish = (): void => {
      clearTimeout(deadline);
      socket.destroy();
      resolve(text);
    };
    const deadline = setTimeout(() => {
      socket.destroy();
      reject(new Error(`no end within ${String(PATIENCE_MS)} ms, after ${text.slice(0, 500)}`));
    }, PATIENCE_MS);
    socket.on('data', (chunk: string) => {
      text += chunk;
      if (isEnough(text)) finish();
    });
    socket.on('end', finish).on('close', finish).on('error', finish);
    socket.write(bytes, 'latin1');
    if (halfClosed) socket.end();
  });
}

function isWhole(text: string): boolean {
  const end = text.indexOf(HEAD_END);
  const length = Number(/^content-length: (\d+)\r$/im.exec(text.slice(0, end + 2))?.[1] ?? NaN);
  return end >= 0 && text.length >= end + HEAD_END.length + length;
}

function firstAnswer(text: string, elapsedMs: number): BareAnswer {
  const [head = '', ...rest] = text.split(HEAD_END);
  const [line = '', ...lines] = head.split('\r\n');
  const pairs = lines.map((one) => [
    one.slice(0, one.indexOf(':')).toLowerCase(),
    one.slice(one.indexOf(':') + 1).trim(),
  ]);
  const headers = Object.fromEntries(pairs) as Record<string, string>;
  const body = rest.join(HEAD_END).slice(0, Number(headers['content-length'] ?? Infinity));
  return { status: Number(line.split(' ')[1]), headers, text: Buffer.from(body, 'latin1').toString('utf8'), elapsedMs };
}
