/** A caution: a short head and the text under it. */
export interface Caution {
  head: string;
  text: string;
}

/** What every reader of a result has to know; the same words in the README, the app and every report. */
export const CAUTIONS: readonly Caution[] = [
  {
    head: 'Decision support, not a release',
    text:
      'These results help people decide; they release nothing. Acceptance and disposition belong to the authorised quality ' +
      'review under the approval that applies, the definition of the part to its design authority. Work that bears on ' +
      'safety is for qualified and licensed persons under local codes and contracts.',
  },
  {
    head: 'Only as good as the measurement',
    text:
      'The results hold for calibrated equipment within its date, qualified probes and a verified environment. The ' +
      'uncertainty of the equipment is what the user states. What was not measured is not shown to conform.',
  },
  {
    head: 'Placement is part of the result',
    text:
      'A best fit is a diagnosis: it moves the part to where it fits, not to where its datums put it. Values taken to a ' +
      'machine are proposals: prove axis signs and the order of rotations there, simulate and dry-run the program with ' +
      'holder, fixture and kinematics, and measure again after finishing. Forces, heat, bending and the condition of the ' +
      'metal are not modelled.',
  },
  {
    head: 'Drawing and standards govern',
    text:
      'Standards are summarised here, not quoted. The purchased current edition and the drawing hold where they differ. ' +
      'Keep the raw data.',
  },
];
