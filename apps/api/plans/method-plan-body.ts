import { ALLOY_NAMES } from '../../../libs/domain/heat/alloys.js';
import { MethodPlanWish } from '../../../libs/ledger/plans/plan-methods.js';
import { NameField, ObjectField, OneOfField, PositiveField } from '../http/fields.js';

class PlannedProfileBody {
  @NameField()
  readonly name!: string;

  @NameField()
  readonly revision!: string;
}

class PlannedProfilesBody {
  @ObjectField(() => PlannedProfileBody, { optional: true })
  readonly removal?: PlannedProfileBody;

  @ObjectField(() => PlannedProfileBody, { optional: true })
  readonly placement?: PlannedProfileBody;

  @ObjectField(() => PlannedProfileBody, { optional: true })
  readonly fountain?: PlannedProfileBody;

  @ObjectField(() => PlannedProfileBody, { optional: true })
  readonly coupon?: PlannedProfileBody;
}

class PlannedPasteBody {
  @OneOfField(ALLOY_NAMES)
  readonly alloy!: string;

  @PositiveField({ max: 10_000, description: 'Of the whole site, mm3.' })
  readonly volumeMm3!: number;
}

/** Which site, and what is to be done there. */
export class MethodPlanBody {
  @NameField()
  readonly assembly!: string;

  @NameField()
  readonly serial!: string;

  @NameField()
  readonly refdes!: string;

  @OneOfField(['new-device', 'reuse-device'] as const)
  readonly goal!: 'new-device' | 'reuse-device';

  @NameField({ optional: true, description: 'The loose device to be put back, where the site is empty already.' })
  readonly device?: string;

  @ObjectField(() => PlannedProfilesBody, {
    optional: true,
    description: 'Profiles of the steps; those of the setup for this site and purpose where left out.',
  })
  readonly profiles?: PlannedProfilesBody;

  @OneOfField(ALLOY_NAMES, { optional: true, description: "Solder that flushes the pads; the balls' where left out." })
  readonly freshAlloy?: string;

  @ObjectField(() => PlannedPasteBody, { optional: true })
  readonly paste?: PlannedPasteBody;

  @PositiveField({ optional: true, max: 50, description: 'Vacuum nozzle, mm; as wide as a pad where left out.' })
  readonly nozzleWidthMm?: number;
}

/** What the body asks for, as of now (RFC 3339). */
export function wishOf(body: MethodPlanBody, now: string): MethodPlanWish {
  const { refdes, goal, device, profiles, freshAlloy, paste, nozzleWidthMm } = body;
  return {
    refdes,
    goal,
    now,
    ...(device !== undefined && { device }),
    ...(profiles !== undefined && { profiles: plannedProfiles(profiles) }),
    ...(freshAlloy !== undefined && { freshAlloy }),
    ...(paste !== undefined && { paste }),
    ...(nozzleWidthMm !== undefined && { nozzleWidthMm }),
  };
}

function plannedProfiles({
  removal,
  placement,
  fountain,
  coupon,
}: PlannedProfilesBody): NonNullable<MethodPlanWish['profiles']> {
  return {
    ...(removal !== undefined && { removal }),
    ...(placement !== undefined && { placement }),
    ...(fountain !== undefined && { fountain }),
    ...(coupon !== undefined && { coupon }),
  };
}
