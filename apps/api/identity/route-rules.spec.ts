import 'reflect-metadata';
import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import { API_CONTROLLERS } from '../api-module.js';
import { ROUTE_RULE, RouteRule } from './roles.js';

interface Route {
  readonly name: string;
  readonly path: string;
  readonly rule: RouteRule | undefined;
}

function routesOf(controller: (typeof API_CONTROLLERS)[number]): Route[] {
  const base = String(Reflect.getMetadata(PATH_METADATA, controller));
  return Object.getOwnPropertyNames(controller.prototype).flatMap((method) => {
    const handler: unknown = Object.getOwnPropertyDescriptor(controller.prototype, method)?.value;
    if (typeof handler !== 'function' || !Reflect.hasMetadata(METHOD_METADATA, handler)) return [];
    const rule = (Reflect.getMetadata(ROUTE_RULE, handler) ?? Reflect.getMetadata(ROUTE_RULE, controller)) as
      RouteRule | undefined;
    return [{ name: `${controller.name}.${method}`, path: base, rule }];
  });
}

describe('the rule of every route', () => {
  const routes = API_CONTROLLERS.flatMap(routesOf);

  it('is there', () => {
    expect(routes.length).toBeGreaterThan(30);
    expect(routes.filter(({ rule }) => rule === undefined || rule.length === 0)).toEqual([]);
  });

  it('is open for nothing but health, figures and the description of the routes', () => {
    const open = routes.filter(({ rule }) => rule === 'open');
    expect([...new Set(open.map(({ path }) => path))].sort()).toEqual(['health', 'metrics', 'openapi.json']);
  });

  it('lets a station do no more than post and follow events and work with traces', () => {
    const stations = routes.filter(({ rule }) => rule !== undefined && rule !== 'open' && rule.includes('station'));
    expect(stations.map(({ name }) => name).sort()).toEqual([
      'EventsController.getEvent',
      'EventsController.postEvents',
      'TracesController.analyse',
      'TracesController.getTrace',
      'TracesController.putTrace',
    ]);
  });
});
