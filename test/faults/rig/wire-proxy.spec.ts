import { AddressInfo, connect, createServer, Server, Socket } from 'node:net';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { WireProxy } from './wire-proxy.js';

const PATIENCE_MS = 5_000;

let server: Server;
let heard: string;
let proxy: WireProxy;
const sockets: Socket[] = [];

beforeEach(async () => {
  heard = '';
  // Answers everything with what it heard, in capitals.
  server = createServer((socket) => {
    socket.on('error', () => undefined);
    socket.on('data', (piece) => {
      heard += String(piece);
      socket.write(String(piece).toUpperCase());
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  proxy = await WireProxy.open((server.address() as AddressInfo).port);
});

afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await proxy.close();
  await new Promise((resolve) => server.close(resolve));
});

interface Caller {
  readonly socket: Socket;
  readonly answer: () => string;
  readonly isClosed: () => boolean;
}

function call(): Caller {
  const socket = connect(proxy.port, '127.0.0.1');
  sockets.push(socket);
  let answer = '';
  let closed = false;
  socket.on('error', () => undefined);
  socket.on('close', () => (closed = true));
  socket.on('data', (piece) => (answer += String(piece)));
  return { socket, answer: () => answer, isClosed: () => closed };
}

const comes = async (condition: () => boolean): Promise<void> => {
  expect(await until(condition, PATIENCE_MS)).toBe(true);
};

it('sends on what is said, both ways', async () => {
  const caller = call();
  caller.socket.write('hello');
  await comes(() => caller.answer() === 'HELLO');
});

it('breaks what is open and takes nothing new while it is cut', async () => {
  const before = call();
  before.socket.write('a');
  await comes(() => before.answer() === 'A');
  proxy.cut();
  await comes(before.isClosed);
  await comes(call().isClosed);
  proxy.mend();
  const after = call();
  after.socket.write('b');
  await comes(() => after.answer() === 'B');
});

it('says nothing and breaks nothing while it is silent, and breaks it when it is mended', async () => {
  const caller = call();
  caller.socket.write('a');
  await comes(() => caller.answer() === 'A');
  proxy.silence();
  caller.socket.write('b');
  const other = call();
  other.socket.write('c');
  await comes(() => other.socket.readyState === 'open');
  expect([caller.answer(), caller.isClosed(), other.answer(), heard]).toEqual(['A', false, '', 'a']);
  proxy.mend();
  await comes(caller.isClosed);
  expect(heard).toBe('a');
});

it.each([
  ['held', 'first ', ''],
  ['passed', 'first COMMIT', ''],
  ['answered', 'first COMMIT', 'FIRST COMMIT'],
] as const)('springs when the text is %s, once, after what had to come before', async (when, reaches, answer) => {
  let sprung = 0;
  proxy.set({ after: 'first', text: 'COMMIT', when, spring: () => (sprung += 1) });
  const other = call();
  other.socket.write('COMMIT');
  await comes(() => other.answer() === 'COMMIT');
  expect(sprung).toBe(0);
  heard = '';
  const caller = call();
  caller.socket.write('first ');
  await comes(() => caller.answer() === 'FIRST ');
  caller.socket.write('COMMIT');
  await comes(() => sprung === 1 && heard === reaches);
  if (answer !== '') await comes(() => caller.answer() === answer);
  caller.socket.write('COMMIT');
  call().socket.write('first COMMIT');
  await comes(() => heard === `${reaches}first COMMIT`);
  expect(sprung).toBe(1);
});
