/** Safety notes: three lines for one hazard, one line for each of several; never a way past a limit. */
import type { CautionCode } from "../../lib/answers/answer.ts";

const DEFER = "The safety data sheet of the product and your local rules come first.";

const COOLER_START =
  "Start with a cooler mold and plastic no hotter than it needs; a rest helps where only later shots get too hot.";

const LINES: Readonly<Record<CautionCode, readonly string[]>> = {
  hot_plastisol: [
    "Plastisol at pouring heat sticks to skin and burns deep: gloves, sleeves, goggles.",
    "Keep water, and anything damp, away from the hot cup and the mold.",
    DEFER,
  ],
  plastic_too_hot: [
    "The plastic is too hot: no hotter than 190 °C (374 °F). Let it cool before it is poured.",
    DEFER,
  ],
  core_flows: [
    "At this limit (limits.demold) the inside may still flow as the mold is opened: it bursts, runs out and burns. Set it lower.",
    DEFER,
  ],
  plastisol_fumes: [
    "Overheated PVC gives off hydrogen chloride: sharp smell or smoke means stop, leave, air the room.",
    "Heat with the fan drawing away from you, and no hotter than the product's sheet says.",
    DEFER,
  ],
  water_near_melt: [
    "Water on hot plastic flashes to steam and throws it: dry mold and baits before the next shot.",
    "Keep cooling water above the dew point, and its hoses away from the hot cup.",
    DEFER,
  ],
  sprue_molten: [
    "The sprue may be molten inside when the bait is cool enough: open only when it has closed as well, at the latest.",
    "It is thick for its bait: opened too early it drips or bursts, and burns.",
    DEFER,
  ],
  damp_mold: [
    "This mold soaks up water, and damp in it bursts into steam that throws hot plastic: only ever shoot it bone dry.",
    "Dry a new one, or one that was wetted or lay in a damp room, slowly and until it no longer gets lighter.",
    DEFER,
  ],
  soaked_mold: [
    "No water at this mold: it soaks it up and throws hot plastic with the steam. No dip, no bath, no cooling: bone dry, or not at all.",
    "One that was wetted is dried slowly, until it no longer gets lighter, before anything hot comes near it.",
    DEFER,
  ],
  touch_burn: [
    "The skin of a bait cools first and is heated again from its core: it can burn a minute later.",
    "Drop it in cold water, well away from the hot cup, before you handle it.",
    DEFER,
  ],
  hot_mold: [
    "The mold itself is hot enough to burn at a touch: take hold of it with heat-proof gloves, at the clamp too.",
    DEFER,
  ],
  wall_above_limit: [
    "The cavity face gets hotter than this mold bears: it softens, sticks and bows.",
    COOLER_START,
    "The heat resistance on the resin's own sheet decides.",
  ],
  mold_not_post_cured: [
    "What this mold is said to bear holds once it is post-cured, and the job pours it without: as it hardens in the room these shots can soften its face. Post-cure it before the first one (pour.postCure).",
    "How slowly and how hot, the resin's own sheet says.",
  ],
  plaster_above_limit: [
    "The cavity face gets hotter than plaster bears: it gives off the water bound in it, cracks and turns to powder.",
    COOLER_START,
    DEFER,
  ],
  silicone_above_limit: [
    "The cavity face gets hotter than this silicone bears: it ages, gets brittle and tears.",
    COOLER_START,
    "The heat resistance on the silicone's own sheet decides.",
  ],
  wood_above_limit: [
    "The cavity face gets hotter than this mold may: wood dries out, warps, browns and gives off gas.",
    COOLER_START,
    DEFER,
  ],
  metal_above_limit: [
    "The cavity face gets hotter than the limit that the job has for it.",
    COOLER_START,
    DEFER,
  ],
  pour_not_recommended: [
    "Do not make this pour: it can smoke, foam, crack or catch fire.",
    "If a cup or pour smokes: outdoors on stone, keep away, no water into it.",
    DEFER,
  ],
  pour_may_smoke: [
    "With bad luck this pour can smoke, foam, crack or catch fire: make it shallower, or in layers.",
    "If a cup or pour smokes: outdoors on stone, keep away, no water into it.",
    DEFER,
  ],
  pour_unattended: [
    "Stay with a curing pour until its peak is past, with nothing that burns around it.",
    "Spread out what is left in the cup: in a heap it heats itself the most.",
    DEFER,
  ],
  batch_may_smoke: [
    "So much resin in one cup heats itself, can smoke and catch fire: mix smaller batches, pour each at once.",
    "If a cup or pour smokes: outdoors on stone, keep away, no water into it.",
    "How much may be mixed at once stands on the product's data sheet: it decides.",
  ],
  resin_contact: [
    "Epoxy hardeners are corrosive and sensitize for life: nitrile gloves, no skin contact, fresh air.",
    "Wash with soap and water, not with solvent.",
    DEFER,
  ],
  isocyanate: [
    "Isocyanates sensitize the lungs, and some countries ask for training before use.",
    "Work with extraction; who ever reacted to them stays away.",
    DEFER,
  ],
  metal_powder: [
    "Fine metal powder in the air can explode: no flame, no sparks, no household vacuum cleaner.",
    "Keep it dry, and wear a dust mask when weighing or sanding.",
    DEFER,
  ],
  oven_ramp: [
    "Heat a mold slowly and never in the kitchen's oven: resin vapors stay in it.",
    "Let it cool in the closed oven; a hot mold cracks when it is rushed.",
    DEFER,
  ],
  lead_weights: [
    "Lead is poisonous: gloves or washed hands, nothing to eat near it, out of children's reach.",
    "Where you fish it may be forbidden; tungsten, brass and steel are not.",
    DEFER,
  ],
  damp_additives: [
    "Salt, glitter and fillers must be bone dry: damp ones make hot plastic spit.",
    "Stir them in before heating, goggles on; no dust of hollow glass in the air.",
    DEFER,
  ],
  silicone_inhibited: [
    "Sulfur clay, tin, latex and amines stop platinum silicone from curing: test on a dab first.",
    DEFER,
  ],
};

/** The lines of one caution. */
export function cautionLines(code: CautionCode): readonly string[] {
  return LINES[code];
}

/**
 * What is printed under an answer: of each caution its first line, so that none is lost; of a single one all of it. Who
 * decides in the end stands last.
 */
export function cautionTexts(codes: readonly CautionCode[]): readonly string[] {
  const each = [...new Set(codes)].map(cautionLines);
  const own = each.map((lines) => lines.filter((line) => line !== DEFER));
  const told = own.length === 1 ? own.flat() : own.flatMap((lines) => lines.slice(0, 1));
  return each.flat().includes(DEFER) ? [...told, DEFER] : told;
}
