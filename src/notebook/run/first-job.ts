/** What a new reader starts from. */

/** The shipped page that is open at first. */
export const FIRST_PAGE = "first";

/** The shipped job that is chosen at first. */
export const FIRST_JOB = "thick-swimmer";

/** A job for somebody who has none yet: everything but the thickness is left to its default. */
export const BLANK_JOB = "name: My bait\nbait:\n  thickness: 16 mm\n";
