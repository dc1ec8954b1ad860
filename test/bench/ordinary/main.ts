/**
 * The ordinary way: the tallies of the book as one builds them with Nest, TypeORM repositories and a job an event, for the
 * bench to be compared with. It is set up for its best figure and then left alone. Its
 * api must be up before its workers: it makes the tables.
 */
import 'reflect-metadata';
import { INestApplicationContext, ValidationPipe } from '@nestjs/common';
import { NestApplicationContextOptions } from '@nestjs/common/interfaces/nest-application-context-options.interface.js';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, NestFastifyApplication } from '@nestjs/platform-fastify';
import { OrdinaryModule } from './ordinary.module.js';
import { readSettings, Settings } from './settings.js';
import { VALIDATION } from './validation.js';

const BODY_LIMIT = 4 * 1024 * 1024;
const STOP_MS = 5_000;
const LOGGING = Object.assign(new NestApplicationContextOptions(), { logger: ['error' as const, 'warn' as const] });

const settings = readSettings(process.env);
const app = settings.role === 'worker' ? await openWorker(settings) : await openApi(settings);
app.enableShutdownHooks(['SIGTERM', 'SIGINT']);
// A queue that has lost its Redis may wait for ever to be closed.
process.once('SIGTERM', () => setTimeout(() => process.exit(1), STOP_MS).unref());
if (settings.role !== 'worker') process.stdout.write('ordinary api is up\n');
if (settings.role !== 'api') process.stdout.write('ordinary worker is up\n');

async function openApi(given: Settings): Promise<INestApplicationContext> {
  const api = await NestFactory.create<NestFastifyApplication>(
    OrdinaryModule.for(given),
    new FastifyAdapter({ bodyLimit: BODY_LIMIT }),
    LOGGING,
  );
  api.useGlobalPipes(new ValidationPipe(VALIDATION));
  await api.listen(given.port, '127.0.0.1');
  return api;
}

function openWorker(given: Settings): Promise<INestApplicationContext> {
  return NestFactory.createApplicationContext(OrdinaryModule.for(given), LOGGING);
}
