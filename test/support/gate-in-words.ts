import { Measured, Move, Step } from '../reference/gate-words.js';
import { Operation, Tell } from './gate-operation.js';

/** An operation as one would tell it, for whoever has to find out why the book and the naive gate part. */
export function inWords(operation: Operation, n: number): string {
  return `${String(n + 1)}. ${wordsOf(operation)}`;
}

function wordsOf(operation: Operation): string {
  switch (operation.op) {
    case 'tell':
      return `${operation.subject}: ${fact(operation)}`;
    case 'follow': {
      const { which, step, otherwise, minutesAgo, minutesHot, measured } = operation;
      const how = otherwise ? 'not quite as planned' : 'as planned';
      return `step ${String(step)} of the ${String(which)}-newest clearance is done ${how}${when({ minutesAgo, minutesHot, measured })}`;
    }
    case 'ask': {
      const { subject, steps, station, operator, ttlMinutes } = operation.wish;
      const before = operation.before === null ? '' : `${fact(operation.before)}, is posted and waits; then `;
      return `${subject}: ${before}${operator} at ${station} asks for ${steps.map(step).join(', ')}, for ${String(ttlMinutes)} min`;
    }
    case 'give back':
    case 'annul':
    case 'withdraw concession':
      return `${operation.op}: the ${String(operation.which)}-newest`;
    case 'wait':
      return `${String(operation.minutes)} minutes pass, and lapses are written`;
    case 'concede':
      return `concede ${String(operation.more)} more of the budget with the ${String(operation.which)}-least left`;
    case 'hold':
      return `${operation.by} puts a hold on ${operation.subject}`;
    case 'decide':
      return `${operation.by} decides ${operation.decision} of the ${String(operation.which)}-newest open hold`;
    case 'release':
      return `${operation.by} releases the ${String(operation.which)}-newest open hold`;
    case 'let go':
      return `the ${String(operation.which)}-newest open hold is decided ${operation.decision}, and released`;
    case 'comes back':
      return `${operation.subject} is shipped and received again, and what its shipment was held for is settled`;
  }
}

function fact(tell: Omit<Tell, 'subject'>): string {
  const named =
    tell.names === null
      ? 'naming no clearance'
      : tell.names === 'wrong'
        ? 'naming a clearance that there is not'
        : `naming the ${String(tell.names)}-newest clearance`;
  return `${step(tell.doing)}${when(tell)}, ${named}`;
}

function when({ minutesAgo, minutesHot, measured }: Pick<Tell, 'minutesAgo' | 'minutesHot' | 'measured'>): string {
  const late = minutesAgo === 0 ? '' : ` ${String(minutesAgo)} minutes ago`;
  const hot = minutesHot === 0 ? '' : ` after ${String(minutesHot)} minutes of heat`;
  return `${late}${hot}${readings(measured)}`;
}

function readings({ own, beside }: Measured): string {
  const there = own === null ? '' : `, measured: ${own}`;
  return beside === null ? there : `${there}, measured beside it: ${beside}`;
}

function step(doing: Step | Move): string {
  const { kind, ...rest } = doing;
  return [kind, ...Object.values(rest)].join(' ');
}
