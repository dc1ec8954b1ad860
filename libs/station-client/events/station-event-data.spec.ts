import { EVENT_SUBJECTS as HOUSE_SUBJECTS, StationEventData as HouseData } from '../../domain/events/station-event.js';
import { PlannedStep as HouseStep } from '../../domain/clearance/clearance.js';
import { PlannedStep } from '../clearance/clearance-request.js';
import { EVENT_SUBJECTS, StationEventData } from './station-event-data.js';

type Same<A, B> = [A] extends [B] ? ([B] extends [A] ? true : false) : false;

it('knows the events and the steps of the house, each as it is there', () => {
  // The compiler looks at these; a shape that differs makes one of them false.
  const isSame: [Same<StationEventData, HouseData>, Same<PlannedStep, HouseStep>] = [true, true];
  expect(isSame).toEqual([true, true]);
  expect(EVENT_SUBJECTS).toEqual(HOUSE_SUBJECTS);
});
