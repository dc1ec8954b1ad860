import { figureInWords } from './hold-figures.js';
import { isBroken, type MeasuredScale, placeOn } from './hold-scale.js';
import './hold-scale-drawn.css';

/** A measured figure on its scale: the limit as a line, what lies beyond it hatched, each value a mark; the worst is named. */
export function HoldScale({ scale }: { readonly scale: MeasuredScale }) {
  const { values, limit, isLeast, unit, what, fromTo } = scale;
  const [worst] = values;
  if (worst === undefined) return null;
  const at = (figure: number) => `${100 * placeOn(scale, figure)}%`;
  const broken = values.filter(({ figure }) => isBroken(scale, figure));
  const side = isLeast ? 'at least' : 'at most';
  const words = `${worst.name} ${figureInWords(worst.figure, unit)} ${what}; ${side} ${figureInWords(limit, unit)} allowed`;
  return (
    <figure className="hold-scale">
      <p className="hold-scale__figure">
        <strong>{figureInWords(worst.figure, unit)}</strong> {what}, where {side} {figureInWords(limit, unit)} is
        allowed
        {values.length > 1 && unit !== 'um' && `; ${broken.length} of ${values.length} beyond it`}
      </p>
      <div className="hold-scale__line" role="img" aria-label={words}>
        <span
          className="hold-scale__beyond"
          style={isLeast ? { left: 0, width: at(limit) } : { left: at(limit), right: 0 }}
        />
        <span
          className={`hold-scale__limit${placeOn(scale, limit) > 0.5 ? ' hold-scale__limit--left' : ''}`}
          style={{ left: at(limit) }}
        >
          <span>
            {side} {figureInWords(limit, unit)}
          </span>
        </span>
        {values.map(({ name, figure }, n) => (
          <span
            key={name}
            className={`hold-scale__value${isBroken(scale, figure) ? ' hold-scale__value--broken' : ''}${placeOn(scale, figure) > 0.75 ? ' hold-scale__value--left' : ''}`}
            style={{ left: at(figure) }}
          >
            {(n === 0 || values.length <= 2) && (
              <span>
                {name} {figureInWords(figure, unit)}
              </span>
            )}
          </span>
        ))}
      </div>
      <p className="hold-scale__from quiet" aria-hidden="true">
        {figureInWords(fromTo[0], unit)}
      </p>
    </figure>
  );
}
