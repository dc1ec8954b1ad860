import { Body, Controller, HttpCode, Inject, Post } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { devicesAboard } from '../../../libs/domain/book/reach.js';
import { MethodPlan } from '../../../libs/domain/plan/method-plan.js';
import { deviceKey, unitKey } from '../../../libs/domain/subject/subject.js';
import { planMethods } from '../../../libs/ledger/plans/plan-methods.js';
import { worldOfUnit } from '../../../libs/ledger/views/devices-aboard.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { MethodPlanBody, wishOf } from './method-plan-body.js';

interface MethodPlanAnswer extends MethodPlan {
  readonly assembly: string;
  readonly serial: string;
  readonly refdes: string;
  readonly goal: MethodPlanBody['goal'];
}

@ApiTags('plans')
@Roles(...HOUSE)
@Controller('v1/method-plans')
export class MethodPlansController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Post()
  @HttpCode(200)
  @Answers(200, 'A row per dressing method: what its route would spend, and whether it fits.', ref('MethodPlan'))
  @Problems('unreadable-json', 'not-found', 'invalid-body')
  async planDressing(@Body() body: MethodPlanBody): Promise<MethodPlanAnswer> {
    const { reads, setup, clock } = this.deps;
    const { assembly, serial, refdes, goal, device } = body;
    await setup.catchUp();
    const unit = await reads.subject(unitKey(assembly, serial));
    if (unit?.state?.kind !== 'unit')
      throw new ProblemError('not-found', `The book knows no unit ${serial} of ${assembly}.`);
    const state = unit.state.state;
    const named = device === undefined ? [] : [device];
    const now = clock.now();
    const keys = [...devicesAboard(state), ...named].map(deviceKey);
    const [records, clearances] = await Promise.all([
      reads.subjects(keys),
      reads.openClearances([unit.key, ...keys], now),
    ]);
    const devices = records.flatMap((record) => (record.state?.kind === 'device' ? [record.state.state] : []));
    const plan = planMethods(worldOfUnit(state, devices, clearances), setup, state, wishOf(body, now));
    if (plan === 'unknown-site') throw new ProblemError('not-found', `Assembly ${assembly} has no site ${refdes}.`);
    return { assembly, serial, refdes, goal, ...plan };
  }
}
