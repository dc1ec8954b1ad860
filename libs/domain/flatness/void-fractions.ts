export interface JointVoids {
  readonly joint: string;
  /** Share of the joint's area in the picture, 0 to 1: all its voids together. */
  readonly fraction: number;
}

export interface VoidFractions {
  readonly joints: readonly JointVoids[];
  /** null where no joint was looked at. */
  readonly worst: JointVoids | null;
  readonly mean: number | null;
}

/**
 * Voids by joint, the worst joint and the mean over joints. Several entries of a joint are voids of the same joint and
 * add up, at most to the whole of it.
 * @throws RangeError where a fraction is not between 0 and 1.
 */
export function voidFractions(voids: readonly JointVoids[]): VoidFractions {
  const byJoint = new Map<string, number>();
  for (const { joint, fraction } of voids) {
    if (!(fraction >= 0 && fraction <= 1)) throw new RangeError(`not a void fraction of joint ${joint}: ${fraction}`);
    byJoint.set(joint, Math.min(1, (byJoint.get(joint) ?? 0) + fraction));
  }
  const joints = [...byJoint].map(([joint, fraction]) => ({ joint, fraction }));
  const [first, ...others] = joints;
  if (first === undefined) return { joints, worst: null, mean: null };
  const worst = others.reduce((most, joint) => (joint.fraction > most.fraction ? joint : most), first);
  const mean = joints.reduce((sum, { fraction }) => sum + fraction, 0) / joints.length;
  return { joints, worst, mean };
}

/**
 * Share of a joint's area that one round void takes, from its diameter as a share of the joint's (0 to 1).
 * @throws RangeError outside that.
 */
export function voidAreaFraction(diameterFraction: number): number {
  if (!(diameterFraction >= 0 && diameterFraction <= 1)) {
    throw new RangeError(`not a share of the diameter: ${diameterFraction}`);
  }
  return diameterFraction ** 2;
}
