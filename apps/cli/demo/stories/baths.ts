import { ShiftLog } from '../shift-log.js';
import { onSecondDay, shiftTime } from '../shift-time.js';

/** The fountain's solder is analysed three times in the shift. */
export function bathsAnalysed(log: ShiftLog): void {
  for (const [hour, copperPct] of [
    [5, 0.62],
    [12, 0.66],
    [18, 0.71],
  ] as const) {
    const at = onSecondDay(hour, 40);
    log.record({
      type: 'heatbook.bath.analysed.v1',
      station: 'FOUNT-1',
      subject: 'stations/FOUNT-1',
      id: `bath:${String(hour)}`,
      at,
      data: { solderAlloy: 'SAC305', leadPct: 0.02, copperPct, sampledAt: shiftTime(at - 20) },
    });
  }
}
