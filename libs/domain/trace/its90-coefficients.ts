import { ThermocoupleKind } from '../heat/thermocouple-tolerance.js';

/** One stretch of a reference function: a polynomial, lowest power first, that holds from one argument to another. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly coefficients: readonly number[];
}

/** Added to the polynomial: height x exp(rate x (t - centre)^2). Only type K above 0 C has one. */
export interface Hump {
  readonly height: number;
  readonly rate: number;
  readonly centre: number;
}

/** What ITS-90 says of one thermocouple type: mV from C (junction at 0 C) and, approximately, C from mV. */
export interface Its90Functions {
  readonly millivolts: readonly Stretch[];
  readonly humpAboveZeroC?: Hump;
  readonly celsius: readonly Stretch[];
  /** Greatest error of the approximate inverse, C, as its tables give it. */
  readonly inverseErrorC: number;
}

/**
 * ITS-90 functions of NIST Monograph 175 (also NIST Standard Reference Database 60), mV and C. All coefficients were
 * found in published listings of that table and compared between at least two of them. The inverse functions hold from
 * -200 C (K, T) or -210 C (J) upward: below that a thermocouple has no approximate inverse, and no bench has the cold.
 */
export const ITS90: Readonly<Record<ThermocoupleKind['type'], Its90Functions>> = {
  K: {
    millivolts: [
      {
        from: -200,
        to: 0,
        coefficients: [
          0, 0.39450128025e-1, 0.23622373598e-4, -0.32858906784e-6, -0.49904828777e-8, -0.67509059173e-10,
          -0.57410327428e-12, -0.31088872894e-14, -0.10451609365e-16, -0.19889266878e-19, -0.16322697486e-22,
        ],
      },
      {
        from: 0,
        to: 1372,
        coefficients: [
          -0.17600413686e-1, 0.38921204975e-1, 0.18558770032e-4, -0.99457592874e-7, 0.31840945719e-9,
          -0.56072844889e-12, 0.56075059059e-15, -0.32020720003e-18, 0.97151147152e-22, -0.12104721275e-25,
        ],
      },
    ],
    humpAboveZeroC: { height: 0.1185976, rate: -0.1183432e-3, centre: 126.9686 },
    celsius: [
      {
        from: -5.891,
        to: 0,
        coefficients: [
          0, 2.5173462e1, -1.1662878, -1.0833638, -8.977354e-1, -3.7342377e-1, -8.6632643e-2, -1.0450598e-2,
          -5.1920577e-4,
        ],
      },
      {
        from: 0,
        to: 20.644,
        coefficients: [
          0, 2.508355e1, 7.860106e-2, -2.503131e-1, 8.31527e-2, -1.228034e-2, 9.804036e-4, -4.41303e-5, 1.057734e-6,
          -1.052755e-8,
        ],
      },
      {
        from: 20.644,
        to: 54.886,
        coefficients: [-1.318058e2, 4.830222e1, -1.646031, 5.464731e-2, -9.650715e-4, 8.802193e-6, -3.11081e-8],
      },
    ],
    inverseErrorC: 0.06,
  },
  J: {
    millivolts: [
      {
        from: -210,
        to: 760,
        coefficients: [
          0, 0.50381187815e-1, 0.3047583693e-4, -0.8568106572e-7, 0.13228195295e-9, -0.17052958337e-12,
          0.20948090697e-15, -0.12538395336e-18, 0.15631725697e-22,
        ],
      },
      {
        from: 760,
        to: 1200,
        coefficients: [
          0.29645625681e3, -0.14976127786e1, 0.31787103924e-2, -0.31847686701e-5, 0.15720819004e-8, -0.30691369056e-12,
        ],
      },
    ],
    celsius: [
      {
        from: -8.095,
        to: 0,
        coefficients: [
          0, 1.9528268e1, -1.2286185, -1.0752178, -5.9086933e-1, -1.7256713e-1, -2.8131513e-2, -2.396337e-3,
          -8.3823321e-5,
        ],
      },
      {
        from: 0,
        to: 42.919,
        coefficients: [0, 1.978425e1, -2.001204e-1, 1.036969e-2, -2.549687e-4, 3.585153e-6, -5.344285e-8, 5.09989e-10],
      },
      {
        from: 42.919,
        to: 69.553,
        coefficients: [-3.11358187e3, 3.00543684e2, -9.9477323, 1.7027663e-1, -1.43033468e-3, 4.73886084e-6],
      },
    ],
    inverseErrorC: 0.05,
  },
  T: {
    millivolts: [
      {
        from: -200,
        to: 0,
        coefficients: [
          0, 0.38748106364e-1, 0.44194434347e-4, 0.11844323105e-6, 0.20032973554e-7, 0.90138019559e-9,
          0.22651156593e-10, 0.36071154205e-12, 0.3849393988e-14, 0.28213521925e-16, 0.14251594779e-18,
          0.48768662286e-21, 0.1079553927e-23, 0.13945027062e-26, 0.79795153927e-30,
        ],
      },
      {
        from: 0,
        to: 400,
        coefficients: [
          0, 0.38748106364e-1, 0.3329222788e-4, 0.20618243404e-6, -0.21882256846e-8, 0.10996880928e-10,
          -0.30815758772e-13, 0.4547913529e-16, -0.27512901673e-19,
        ],
      },
    ],
    celsius: [
      {
        from: -5.603,
        to: 0,
        coefficients: [
          0, 2.5949192e1, -2.1316967e-1, 7.9018692e-1, 4.2527777e-1, 1.3304473e-1, 2.0241446e-2, 1.2668171e-3,
        ],
      },
      {
        from: 0,
        to: 20.872,
        coefficients: [0, 2.5928e1, -7.602961e-1, 4.637791e-2, -2.165394e-3, 6.048144e-5, -7.293422e-7],
      },
    ],
    inverseErrorC: 0.04,
  },
};
