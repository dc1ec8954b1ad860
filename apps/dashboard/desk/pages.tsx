import { lazy } from 'react';
import { Route, Switch } from 'wouter';
import { NoSuchPage } from './shell/no-such-page.js';

// Each page is loaded when it is first opened: the desk itself stays small.
const DeskPage = lazy(() => import('./holds/desk-page.js'));
const HoldPage = lazy(() => import('./holds/hold-page.js'));
const UnitsPage = lazy(() => import('./units/units-page.js'));
const UnitPage = lazy(() => import('./units/unit-page.js'));
const DevicePage = lazy(() => import('./devices/device-page.js'));
const PlanPage = lazy(() => import('./plans/plan-page.js'));
const ContainmentsPage = lazy(() => import('./containments/containments-page.js'));
const ContainmentPage = lazy(() => import('./containments/containment-page.js'));
const StationsPage = lazy(() => import('./floor/stations-page.js'));
const StationPage = lazy(() => import('./floor/station-page.js'));
const PeoplePage = lazy(() => import('./floor/people-page.js'));
const LimitsPage = lazy(() => import('./limits/limits-page.js'));
const LimitPage = lazy(() => import('./limits/limit-page.js'));
const SearchPage = lazy(() => import('./search/search-page.js'));

/** The pages and their addresses; paths.ts makes addresses. */
export function Pages() {
  return (
    <Switch>
      <Route path="/" component={DeskPage} />
      <Route path="/holds/:id" component={HoldPage} />
      <Route path="/units" component={UnitsPage} />
      <Route path="/units/:assembly/:serial" component={UnitPage} />
      <Route path="/devices/:device" component={DevicePage} />
      <Route path="/plan" component={PlanPage} />
      <Route path="/containments" component={ContainmentsPage} />
      <Route path="/containments/:id" component={ContainmentPage} />
      <Route path="/stations" component={StationsPage} />
      <Route path="/stations/:station" component={StationPage} />
      <Route path="/people" component={PeoplePage} />
      <Route path="/limits" component={LimitsPage} />
      <Route path="/limits/:limit" component={LimitPage} />
      <Route path="/search" component={SearchPage} />
      <Route component={NoSuchPage} />
    </Switch>
  );
}
