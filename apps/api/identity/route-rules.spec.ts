import 'reflect-metadata';
import { RequestMethod } from '@nestjs/common';
import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import { Role } from '../../../libs/ledger/identity/principal.js';
import { API_CONTROLLERS } from '../api-module.js';
import { ROUTE_RULE, RouteRule } from './roles.js';

interface Route {
  readonly name: string;
  readonly path: string;
  readonly method: string;
  readonly rule: RouteRule | undefined;
}

function routesOf(controller: (typeof API_CONTROLLERS)[number]): Route[] {
  const base = String(Reflect.getMetadata(PATH_METADATA, controller));
  return Object.getOwnPropertyNames(controller.prototype).flatMap((method) => {
    const handler: unknown = Object.getOwnPropertyDescriptor(controller.prototype, method)?.value;
    if (typeof handler !== 'function' || !Reflect.hasMetadata(METHOD_METADATA, handler)) return [];
    const rule = (Reflect.getMetadata(ROUTE_RULE, handler) ?? Reflect.getMetadata(ROUTE_RULE, controller)) as
      RouteRule | undefined;
    const verb = RequestMethod[Number(Reflect.getMetadata(METHOD_METADATA, handler))] ?? '';
    return [{ name: `${controller.name}.${method}`, path: base, method: verb, rule }];
  });
}

describe('the rule of every route', () => {
  const routes = API_CONTROLLERS.flatMap(routesOf);

  it('is there', () => {
    expect(routes.length).toBeGreaterThan(30);
    expect(routes.filter(({ rule }) => rule === undefined || rule.length === 0)).toEqual([]);
  });

  it('is open for nothing but health, figures, the description of the routes, signing in, figures of the log and the pages', () => {
    const open = routes.filter(({ rule }) => rule === 'open');
    const places = open.map(({ name, path }) => (path.startsWith('v1/') || path === '/' ? name : path));
    expect([...new Set(places)].sort()).toEqual([
      ...['DeskController.getDesk', 'DeskController.getDeskPart', 'DeskController.openDesk'],
      ...['LogController.getLogCheckpoint', 'LogController.getLogKeys', 'LogController.proveConsistency'],
      ...['SessionController.signIn', 'asyncapi.json', 'health', 'metrics', 'openapi.json', 'verify'],
    ]);
  });

  it('lets a station ask for clearance, post and follow events, work with traces, and read what its work is described by', () => {
    expect(namesFor('station')).toEqual([
      'ClearancesController.getClearance',
      'ClearancesController.listClearances',
      'ClearancesController.requestClearance',
      'ClearancesController.returnClearance',
      'EventsController.getEvent',
      'EventsController.postEvents',
      'PartsController.classifyPart',
      'PartsController.getPart',
      'PartsController.listParts',
      'ProfilesController.getProfile',
      'ProfilesController.listProfileRevisions',
      'ProfilesController.listProfiles',
      'StationsController.getStation',
      'TracesController.analyse',
      'TracesController.getCurve',
      'TracesController.getTrace',
      'TracesController.putTrace',
    ]);
  });

  it('lets an auditor read everything that anybody reads, and write nothing but an own password, own archives and good-bye', () => {
    const missing = routes.filter(
      ({ method, rule }) => method === 'GET' && rule !== 'open' && !rule?.includes('auditor'),
    );
    expect(missing).toEqual([]);
    const written = routes.filter(
      ({ method, rule }) => method !== 'GET' && rule !== 'open' && rule?.includes('auditor'),
    );
    const computed = ['MethodPlansController.planDressing'];
    const archives = ['ArchivesController.askForArchive', 'ArchivesController.deleteArchive'];
    const own = [...archives, 'PeopleController.setPersonPassword', 'SessionController.signOut'];
    expect(
      written
        .map(({ name }) => name)
        .filter((name) => !computed.includes(name))
        .sort(),
    ).toEqual(own);
  });

  it('keeps keys and accounts in the hands of admins', () => {
    for (const name of [
      ...['PeopleController.addPerson', 'PeopleController.revisePerson'],
      ...['StationKeysController.issueStationKey', 'StationKeysController.revokeStationKey'],
    ]) {
      expect(routes.find((route) => route.name === name)?.rule).toEqual(['admin']);
    }
  });

  function namesFor(role: Role): string[] {
    return routes
      .filter(({ rule }) => rule !== 'open' && rule?.includes(role))
      .map(({ name }) => name)
      .sort();
  }
});
