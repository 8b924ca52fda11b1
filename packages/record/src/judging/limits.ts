/**
 * Every limit that a finding is judged by, with a worked example and where it comes from. Labels state the supply a part is made for, not the
 * volts at its screws, hence the allowances.
 */

export interface Limit {
  readonly value: number;
  /** What it is a share or figure of, and which check uses it. */
  readonly meaning: string;
  readonly example: string;
  readonly status: string;
}

const COMMON_PRACTICE = 'common practice, no source';

export const limitTable = {
  tooLittleNominal: {
    value: 0.9,
    meaning: "share of a label's lowest volts below which a part that must work gets too little, at nominal (error)",
    example:
      '8 W doorbell labelled 16-24 V on 16 V 10 VA, 18 AWG: 16.69 V at 12 m and 16.22 V at 30 m pass; 14.4 V is the limit',
    status: COMMON_PRACTICE,
  },
  tooLittleLow: {
    value: 0.8,
    meaning: "share of a label's lowest volts below which a part gets too little at low mains and warm wire (warning)",
    example: 'a 16 V label: 12.8 V',
    status: COMMON_PRACTICE,
  },
  tooMuch: {
    value: 1.15,
    meaning: "share of a label's highest volts above which a part sees too much, every supply at its rated volts",
    example: '20 V or 24 V on a 16 V chime fails, 18 V passes (18.4 V is the limit)',
    status: COMMON_PRACTICE,
  },
  headroom: {
    value: 0.8,
    meaning: "share of a supply's rating above which lasting loads leave little",
    example: 'one "10 VA minimum" doorbell on 10 VA: 100 %',
    status: COMMON_PRACTICE,
  },
  overloadLasting: {
    value: 1.2,
    meaning: "share of a supply's rated amps that lasting loads may draw",
    example: '10 W at 30 m of 18 AWG on 16 V 10 VA: 1.08 passes',
    status: COMMON_PRACTICE,
  },
  overloadMomentaryWarning: {
    value: 2,
    meaning: "share of a supply's rated amps that one momentary contact may draw before a warning",
    example: 'two doors at once on 10 VA: 1.76',
    status: COMMON_PRACTICE,
  },
  overloadMomentaryError: {
    value: 3,
    meaning: "share of a supply's rated amps that one momentary contact may draw before an error",
    example: 'a 30 VA sounder on 16 V 10 VA stays under it; four of them do not',
    status: COMMON_PRACTICE,
  },
  overloadRegulated: {
    value: 1.1,
    meaning: "share of a regulated DC supply's rated amps that may be drawn in any state",
    example: '1.2 A from a 1 A adaptor fails: it limits or shuts down',
    status: COMMON_PRACTICE,
  },
  contactUnread: {
    value: 2,
    meaning: "times its type's rating that a contact may switch where the record states none of its own",
    example: 'two 10 VA chimes on a push whose label nobody read: 1.25 A against 1 A passes',
    status: COMMON_PRACTICE,
  },
  noLoadLeastSmall: {
    value: 1,
    meaning: 'least open volts of a healthy supply up to 10 VA, as a share of its rated volts',
    example: '16 V 10 VA reading 15.2 V open',
    status: COMMON_PRACTICE,
  },
  noLoadMostSmall: {
    value: 1.5,
    meaning: 'most open volts of a healthy supply up to 10 VA, as a share of its rated volts',
    example: '16 V 10 VA reading about 20 V open passes, 25 V does not',
    status: COMMON_PRACTICE,
  },
  noLoadLeastLarge: {
    value: 0.95,
    meaning: 'least open volts of a healthy supply above 10 VA, as a share of its rated volts',
    example: '16 V 30 VA reading 15.0 V open',
    status: COMMON_PRACTICE,
  },
  noLoadMostLarge: {
    value: 1.35,
    meaning: 'most open volts of a healthy supply above 10 VA, as a share of its rated volts',
    example: '16 V 30 VA reading 22 V open',
    status: COMMON_PRACTICE,
  },
  smallSupply: {
    value: 10,
    meaning: 'VA up to which a supply counts as small where its open volts are judged',
    example: 'a 10 VA bell transformer',
    status: COMMON_PRACTICE,
  },
  planningDrop: {
    value: 0.1,
    meaning: "share of the supply's volts lost in wire above which it is worth a word",
    example: '1.6 V of 16 V: about 200 ft of 18 AWG at 0.625 A',
    status: COMMON_PRACTICE,
  },
  batteryShare: {
    value: 0.8,
    meaning: "share of a standby battery's ampere hours that is counted on",
    example: '7 Ah at 0.5 A: 11.2 h',
    status: COMMON_PRACTICE,
  },
  thinMargin: {
    value: 0.2,
    meaning: 'margin to a limit below which a figure that was assumed is named',
    example: '16.22 V against 14.4 V: 13 %',
    status: COMMON_PRACTICE,
  },
} as const satisfies Record<string, Limit>;

type LimitName = keyof typeof limitTable;

/** The figures alone. */
export const limits = Object.fromEntries(
  Object.entries(limitTable).map(([name, limit]) => [name, limit.value]),
) as Readonly<Record<LimitName, number>>;

/**
 * Amps above which a conductor carries too much, by AWG. 18 AWG and thicker: overcurrent limits for small copper conductors in the National
 * Electrical Code, 240.4(D) (18 and 16 AWG from memory, not confirmed); thinner ones: common practice, no source.
 */
export const conductorAmps: readonly { readonly awg: number; readonly amps: number }[] = [
  { awg: 12, amps: 20 },
  { awg: 14, amps: 15 },
  { awg: 16, amps: 10 },
  { awg: 18, amps: 7 },
  { awg: 20, amps: 5 },
  { awg: 22, amps: 3 },
  { awg: 24, amps: 2 },
  { awg: 26, amps: 1 },
];

/** Conductor sizes that low-voltage cable is sold in, thin to thick (common practice, no source). */
export const standardAwg: readonly number[] = [26, 24, 22, 20, 18, 16, 14, 12];
export const standardMm2: readonly number[] = [0.2, 0.35, 0.5, 0.75, 1, 1.5, 2.5, 4];

/** Sizes above those that only cable for lights and long feeds is sold in, and the least size such cable has (common practice, no source). */
export const heavyCable = { awg: 10, mm2: 6, fromAwg: 16, fromMm2: 1.5 } as const;

/** Amps that DC supplies are sold in (common practice, no source). */
export const standardAmps: readonly number[] = [0.5, 1, 1.5, 2, 3, 4, 5, 8, 10];

/** Ampere hours that standby batteries are sold in (common practice, no source). */
export const standardAmpereHours: readonly number[] = [1.2, 2, 4, 5, 7, 9, 12, 17, 26, 40];
