/** What is sent over a bare socket, since no client would send it. */
export interface UnusualConnection {
  readonly name: string;
  readonly bytes: string;
  /** The status that the first answer has; `none` where the connection ends without one. */
  readonly answer: number | 'none';
  /** The client says at once that it sends no more. */
  readonly halfClosed?: true;
}

const HOST = 'Host: heatbook.example\r\n';
const JSON_TYPE = 'Content-Type: application/json\r\n';

/** @param path that is open to everybody and answers 200 */
function got(path: string, headers = HOST): string {
  return `GET ${path} HTTP/1.1\r\n${headers}\r\n`;
}

function posted(headers: string, body: string): string {
  return `POST /v1/session HTTP/1.1\r\n${HOST}${JSON_TYPE}${headers}\r\n${body}`;
}

export const UNUSUAL_CONNECTIONS: readonly UnusualConnection[] = [
  { name: 'no HTTP at all', bytes: 'hello\r\n\r\n', answer: 400 },
  { name: 'bytes of TLS', bytes: '\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03', answer: 400 },
  { name: 'the preface of HTTP/2', bytes: 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n', answer: 400 },
  { name: 'HTTP/0.9', bytes: 'GET /health/live\r\n\r\n', answer: 200 },
  { name: 'HTTP/9.9', bytes: `GET /health/live HTTP/9.9\r\n${HOST}\r\n`, answer: 400 },
  { name: 'HTTP/1.0', bytes: 'GET /health/live HTTP/1.0\r\n\r\n', answer: 200 },
  { name: 'an unknown method', bytes: `STEAL /health/live HTTP/1.1\r\n${HOST}\r\n`, answer: 400 },
  { name: 'no host', bytes: got('/health/live', ''), answer: 400 },
  { name: 'an empty host', bytes: got('/health/live', 'Host:\r\n'), answer: 200 },
  { name: 'an address with a space', bytes: got('/health/li ve'), answer: 400 },
  { name: 'an address with a control', bytes: got('/health/li\x01ve'), answer: 400 },
  { name: 'an address with bytes beyond ASCII', bytes: got('/health/\xff\xfe'), answer: 400 },
  { name: 'a whole URL for an address', bytes: got('http://elsewhere.example/health/live'), answer: 200 },
  { name: 'a whole URL of nothing', bytes: got('http://elsewhere.example/v1/units'), answer: 401 },
  { name: 'a star for an address', bytes: `OPTIONS * HTTP/1.1\r\n${HOST}\r\n`, answer: 404 },
  { name: 'CONNECT', bytes: `CONNECT elsewhere.example:443 HTTP/1.1\r\n${HOST}\r\n`, answer: 405 },
  { name: 'a colon missing', bytes: got('/health/live', `${HOST}nonsense\r\n`), answer: 400 },
  { name: 'a folded header', bytes: got('/health/live', `${HOST}X-A: 1\r\n 2\r\n`), answer: 400 },
  { name: 'NUL in a header', bytes: got('/health/live', `${HOST}X-A: a\0b\r\n`), answer: 400 },
  { name: 'a bare line feed', bytes: 'GET /health/live HTTP/1.1\nHost: a\n\n', answer: 400 },
  { name: 'a header of 20 kB', bytes: got('/health/live', `${HOST}X-A: ${'a'.repeat(20_000)}\r\n`), answer: 431 },
  { name: 'an address of 20 kB', bytes: got(`/health/live?${'a'.repeat(20_000)}`), answer: 431 },
  { name: 'an address of 10 kB', bytes: got(`/health/live?${'a'.repeat(10_000)}`), answer: 414 },
  { name: '3000 headers', bytes: got('/health/live', `${HOST}${'a:1\r\n'.repeat(3000)}`), answer: 431 },
  { name: 'an expectation', bytes: got('/health/live', `${HOST}Expect: miracles\r\n`), answer: 417 },
  { name: 'two lengths', bytes: posted('Content-Length: 2\r\nContent-Length: 3\r\n', '{}'), answer: 400 },
  {
    name: 'a length and chunks',
    bytes: posted('Content-Length: 2\r\nTransfer-Encoding: chunked\r\n', '0\r\n\r\n'),
    answer: 400,
  },
  { name: 'a negative length', bytes: posted('Content-Length: -1\r\n', ''), answer: 400 },
  { name: 'a length beyond numbers', bytes: posted(`Content-Length: ${'9'.repeat(30)}\r\n`, ''), answer: 400 },
  { name: 'a length of a terabyte', bytes: posted('Content-Length: 1000000000000\r\n', '{}'), answer: 413 },
  {
    name: 'chunks without end',
    bytes: posted('Transfer-Encoding: chunked\r\n', `20000\r\n${' '.repeat(0x20000)}\r\n`.repeat(10)),
    answer: 413,
  },
  {
    name: 'a chunk with no size',
    bytes: posted('Transfer-Encoding: chunked\r\n', 'zz\r\n{}\r\n0\r\n\r\n'),
    answer: 400,
  },
  {
    name: 'a chunk extension of 20 kB',
    bytes: posted('Transfer-Encoding: chunked\r\n', `2;${'a'.repeat(20_000)}\r\n{}\r\n0\r\n\r\n`),
    answer: 413,
  },
  { name: 'an unknown coding', bytes: posted('Transfer-Encoding: gzip\r\n', '{}'), answer: 400 },
  {
    name: 'a body half sent and closed',
    bytes: posted('Content-Length: 200\r\n', '{"name":'),
    answer: 400,
    halfClosed: true,
  },
  {
    name: 'headers half sent and closed',
    bytes: `GET /health/live HTTP/1.1\r\n${HOST}`,
    answer: 400,
    halfClosed: true,
  },
  { name: 'a request and nothing more to come', bytes: got('/health/live'), answer: 200, halfClosed: true },
  { name: 'nothing', bytes: '', answer: 'none', halfClosed: true },
  { name: 'a hundred at once', bytes: got('/health/live').repeat(100), answer: 200 },
  { name: 'a good one, then none', bytes: `${got('/health/live')}nonsense\r\n\r\n`, answer: 200 },
];
