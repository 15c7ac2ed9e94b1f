/**
 * Public Sans, measured in the font file (`@fontsource-variable/public-sans` 5.3): units per em 2000, OS/2
 * sCapHeight 1446. Painted at 1000 px in weights 500 to 800 the flat digits 1 and 7 and the capital H are 723 px
 * high, the round 0 is 744 with its overshoot. W1 is reckoned on the flat height, the least one.
 */
export const CAP_HEIGHT = 0.723;
export const DIGIT_HEIGHT = 0.723;
/** Advance of every tabular digit, em, at weight 700. */
export const DIGIT_ADVANCE = 0.7;
