/** What the checklist goes by, and how well we know it. */
export interface ChecklistStandard {
  readonly name: string;
  readonly edition: string;
  readonly title: string;
  /**
   * `text`: its wording was read. `contents`: clause numbers and titles were read, what they ask for is from memory. Whoever
   * audits has the text.
   */
  readonly grounds: 'text' | 'contents';
}

export const CHECKLIST_STANDARDS = {
  iso9001: {
    name: 'ISO 9001',
    edition: '2015',
    title: 'Quality management systems: requirements',
    grounds: 'contents',
  },
  part11: {
    name: '21 CFR Part 11',
    edition: '62 FR 13464, 1997',
    title: 'Electronic records; electronic signatures',
    grounds: 'text',
  },
  ipc1782: {
    name: 'IPC-1782',
    edition: '2016',
    title: 'Manufacturing and supply chain traceability of electronic products',
    grounds: 'contents',
  },
} as const satisfies Readonly<Record<string, ChecklistStandard>>;

export type StandardKey = keyof typeof CHECKLIST_STANDARDS;
