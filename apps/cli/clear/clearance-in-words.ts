type Members = Readonly<Record<string, unknown>>;

/** A granted clearance: its id and end in the first line, what it spends, and what it warns of. */
export function grantInWords(clearance: Members): readonly string[] {
  return [
    `granted ${shown(clearance['id'])}, until ${shown(clearance['expiresAt'])}`,
    ...listOf(clearance['spends']).map((spend) => `  spends   ${spendInWords(spend)}`),
    ...listOf(clearance['warnings']).flatMap(warningInWords),
    `  Events of these steps name it: "clearance": "${shown(clearance['id'])}"`,
  ];
}

/** A refused one: each reason, with what would mend it. */
export function refusalInWords(problem: Members): readonly string[] {
  const reasons = listOf(problem['reasons']);
  return [
    `refused, for ${reasons.length === 1 ? 'one reason' : `${String(reasons.length)} reasons`}: do not heat`,
    ...reasons.flatMap(({ code, subject, hold, detail, remedy }) => [
      `  ${shown(code)}, ${subjectInWords(subject)}${hold === undefined ? '' : `, hold ${shown(hold)}`}`,
      `    why  ${shown(detail)}`,
      `    mend ${shown(remedy)}`,
    ]),
    ...listOf(problem['warnings']).flatMap(warningInWords),
  ];
}

function spendInWords({ subject, limit, used, reserved, asked, allowed }: Members): string {
  const most = allowed === null ? 'no limit' : `${shown(allowed)} allowed`;
  return `${shown(asked)} ${shown(limit)} of ${subjectInWords(subject)}: ${shown(used)} used, ${shown(reserved)} reserved with this, ${most}`;
}

function warningInWords({ code, subject, detail, remedy }: Members): readonly string[] {
  return [`  warning  ${shown(code)}, ${subjectInWords(subject)}: ${shown(detail)} ${shown(remedy)}`];
}

/** As it is called at the bench. */
function subjectInWords(subject: unknown): string {
  const { kind, assembly, serial, refdes, device, station, operator, name, revision } = isMembers(subject)
    ? subject
    : {};
  const unit = `${shown(assembly)}/${shown(serial)}`;
  if (kind === 'unit') return `unit ${unit}`;
  if (kind === 'site') return `site ${shown(refdes)} of ${unit}`;
  if (kind === 'profile') return `profile ${shown(name)}@${shown(revision)}`;
  return `${shown(kind)} ${shown(device ?? station ?? operator)}`;
}

function listOf(value: unknown): readonly Members[] {
  return Array.isArray(value) ? value.filter(isMembers) : [];
}

function shown(value: unknown): string {
  if (value === undefined) return 'unknown';
  return typeof value === 'string' ? value : JSON.stringify(value);
}

function isMembers(value: unknown): value is Members {
  return typeof value === 'object' && value !== null;
}
