/**
 * How long before its instant a warning is given, for everything that runs out. All of it is house policy: long enough to
 * send an instrument out, to book a course, or to plan a bake; no standard asks for it.
 */
export const LEAD_TIMES = {
  /** Before a station's calibration is due. */
  calibrationDays: 7,
  /** Before an operator's qualification for a skill runs out. */
  qualificationDays: 14,
  /** Share of the floor life in the present air that is left when the warning is given, … */
  floorLifeShare: 0.2,
  /** … or so many hours, where these are more: for lives below 10 h, shorter than any in the table (its least is 12 h). */
  floorLifeLeastH: 2,
} as const;
