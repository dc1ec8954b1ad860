import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Aedes } from 'aedes';
import { MqttConfig } from '../../libs/config/load-config.js';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { ensureProgram, type NeededProgram } from './ensure-program.js';

/** A real broker over TCP, in memory only. */
export interface TestBroker {
  readonly port: number;
  readonly protocolVersion: MqttConfig['protocolVersion'];
  close(): Promise<void>;
}

export type OpenBroker = () => Promise<TestBroker>;

/** The settings by which a service or a station comes to a broker. */
export function brokerConfig({ port, protocolVersion }: TestBroker, clientId = 'heatbook'): MqttConfig {
  const broker = { host: '127.0.0.1', port, tls: false, username: undefined, password: undefined };
  return { broker, clientId, protocolVersion };
}

/** The same as a process reads it from its environment. */
export function brokerEnvironment({ port, protocolVersion }: TestBroker): Record<'MQTT_URL' | 'MQTT_VERSION', string> {
  return { MQTT_URL: `mqtt://127.0.0.1:${port}`, MQTT_VERSION: protocolVersion === 5 ? '5' : '3.1.1' };
}

/** A broker from npm, MQTT 3.1.1. */
export interface AedesBroker extends TestBroker {
  readonly aedes: Aedes;
}

/**
 * Aedes knows no shared subscriptions: whoever asks for a share is given everything, which is the same for a single process.
 * Sessions that are not clean outlive their connections, as long as the broker lives.
 */
export async function aedesBroker(): Promise<AedesBroker> {
  const aedes = await Aedes.createBroker({
    authorizeSubscribe: (_client, subscription, done) => {
      // Changed in place: the session keeps the very object.
      subscription.topic = subscription.topic.replace(/^\$share\/[^/]+\//, '');
      done(null, subscription);
    },
  });
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket.once('close', () => sockets.delete(socket)));
    aedes.handle(socket);
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has an address with a port');
  return {
    ...{ aedes, port: address.port, protocolVersion: 4 },
    close: async () => {
      await new Promise<void>((resolve) => {
        aedes.close(resolve);
      });
      for (const socket of sockets) socket.destroy();
      server.close();
      await once(server, 'close');
    },
  };
}

const MOSQUITTO: NeededProgram = {
  // Where a distribution puts it is not on everybody's path.
  names: ['mosquitto', '/usr/sbin/mosquitto'],
  apt: 'mosquitto',
  otherwise: 'install 2.0 or newer',
  asked: '-h',
  exitCode: 3,
};

/** How long a suite may wait until it is installed. */
export const INSTALL_MS = 240_000;

/** Mosquitto, MQTT 5. It is installed with apt where it is missing and that is possible. */
export async function mosquittoBroker(): Promise<TestBroker> {
  const program = await ensureProgram(MOSQUITTO);
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-test-broker-'));
  const port = await freePort();
  const settings = join(folder, 'mosquitto.conf');
  const lines = [`listener ${port} 127.0.0.1`, 'allow_anonymous true', 'log_type all', 'max_queued_messages 0'];
  await writeFile(settings, `${lines.join('\n')}\n`);
  const child = spawn(program, ['-c', settings], { stdio: ['ignore', 'ignore', 'pipe'] });
  const exited = once(child, 'exit');
  for await (const line of createInterface({ input: child.stderr })) if (/ running$/.test(line)) break;
  child.stderr.resume();
  return {
    ...{ port, protocolVersion: 5 },
    close: async () => {
      child.kill('SIGTERM');
      await exited;
      await rm(folder, { recursive: true, force: true });
    },
  };
}
