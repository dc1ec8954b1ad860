/** Figures of the classification reflow profile. They bound how packages are classified, not how boards are reworked. */
export interface ProfileFigures {
  readonly soakMinC: number;
  readonly soakMaxC: number;
  readonly soakMinS: number;
  readonly soakMaxS: number;
  /** From the liquidus line to the peak. */
  readonly riseMaxCPerS: number;
  readonly fallMaxCPerS: number;
  readonly liquidusC: number;
  readonly aboveLiquidusMinS: number;
  readonly aboveLiquidusMaxS: number;
  /** Seconds within 5 C of the class temperature. */
  readonly nearClassS: number;
  readonly from25ToPeakMaxS: number;
  /** Reflow passes in classification. */
  readonly passes: number;
  readonly use: 'information';
  readonly reference: string;
}

const COMMON = { soakMinS: 60, soakMaxS: 120, riseMaxCPerS: 3, fallMaxCPerS: 6, passes: 3 };
const REFERENCE = 'J-STD-020 D/E, classification profile, published; a user stays at or below the class temperature';

/** Profile figures of J-STD-020 D/E for SnPb or Pb-free packages, as information beside a rework profile. */
export function profileFigures(leadFree: boolean): ProfileFigures {
  const line = {
    ...COMMON,
    aboveLiquidusMinS: 60,
    aboveLiquidusMaxS: 150,
    use: 'information',
    reference: REFERENCE,
  } as const;
  return leadFree
    ? { ...line, soakMinC: 150, soakMaxC: 200, liquidusC: 217, nearClassS: 30, from25ToPeakMaxS: 480 }
    : { ...line, soakMinC: 100, soakMaxC: 150, liquidusC: 183, nearClassS: 20, from25ToPeakMaxS: 360 };
}
