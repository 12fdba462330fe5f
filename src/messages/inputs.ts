/** What an uncertain input or a guess is called, by its path in the job. */
const NAMES: Readonly<Record<string, string>> = {
  "bait.thickness": "the thickness",
  "shot.temperature": "the plastic's temperature",
  "mold.temperature": "the mold's temperature",
  "room.temperature": "the room's temperature",
  "shot.material.conductivity": "how well the plastic conducts",
  "shot.material.specificHeat": "the plastic's specific heat",
  "shot.material.setTemperature": "the temperature below which the plastic no longer flows",
  "shot.material.bondTemperature": "the temperature above which two colors bond",
  "shot.material.healingTime": "how fast an interface heals",
  "shot.material.healingEnergy": "how fast an interface heals when it is hotter",
  "shot.material.expansion": "how much the plastic expands",
  "shot.material.degradationEnergy": "how fast heat ages the plastic",
  "mold.material.conductivity": "how well the mold conducts",
  "mold.material.filler": "how much filler is in the mold",
  "pour.material": "how well the resin conducts",
  "layer.depth": "the depth of the first color",
  "layer.temperature": "the temperature of the first color",
  "layer.second.temperature": "the temperature of the second color",
  "shot.material.density": "how dense the plastic is",
  "swim.drag": "the drag of a soft body with fins and tail",
  "mold.contact": "the contact of plastic and mold",
  "pour.speed": "how fast the resin reacts",
  "pour.energy": "how much faster the resin reacts when it is hotter",
  "pour.heat": "how much heat the resin makes",
  "pour.potLife": "the pot life",
  "pour.peakExotherm": "the peak on the data sheet",
  "pour.thinFilm": "the hardening time of a thin film",
  air: "the cooling by air or water",
  "limits.set": "the temperature below which the plastic no longer flows",
  "limits.bond": "the temperature above which two colors bond",
  "limits.fill": "the temperature below which a thin section no longer fills",
  "sprue.tolerated": "how much unfed volume is not seen",
  "sprue.stiffSkin": "how thick a skin must be to stand",
  "sprue.widest": "the widest sprue that the gate spot allows",
  "cup.yellowed": "when the plastic yellows",
  "cup.heats": "how hot the cup really was",
};

/** The input in words, or its path when it has none. */
export function inputName(path: string): string {
  return NAMES[path] ?? path;
}
