/** Families of material that may stand at a place. */
export const SOLIDS = ["resin", "silicone", "plaster", "metal", "clay", "wood"];
export const MELTS = ["plastisol"];
export const CASTABLE = ["resin", "silicone"];
