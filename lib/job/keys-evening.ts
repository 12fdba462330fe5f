/** Keys of the job file for the evening's plan. Prices are amounts of the shop's own money: leave out what is not asked. */
import { z } from "zod";
import { amount, quantity, timeOfDay } from "./fields.ts";

export const plan = z.strictObject({
  start: timeOfDay("Start of the evening").optional(),
  heating: quantity("duration", "To heat a cup of plastic", {
    least: "1 min",
    most: "60 min",
    initial: "8 min",
  }),
  prices: z.strictObject({
    plastic: amount("Price of the plastic, each kilogram").optional(),
    extras: amount("Price of hook, eyes and bag, each bait").optional(),
    labor: amount("Labor, each hour").optional(),
    mold: amount("Price of the mold").optional(),
    moldShots: amount("Shots that a mold lasts", "200", 1),
  }),
});

/** What is stirred into the plastic of an evening, shares of its weight. */
export const plastic = z.strictObject({
  color: quantity("ratio", "Color in the plastic", { least: "0 %", most: "20 %", initial: "3 %" }),
  hardener: quantity("ratio", "Hardener in the plastic", {
    least: "0 %",
    most: "50 %",
    initial: "0 %",
  }),
  softener: quantity("ratio", "Softener in the plastic", {
    least: "0 %",
    most: "50 %",
    initial: "0 %",
  }),
  glitter: quantity("ratio", "Glitter in the plastic", {
    least: "0 %",
    most: "20 %",
    initial: "0 %",
  }),
  waste: quantity("ratio", "Left in cup and injector", {
    least: "0 %",
    most: "100 %",
    initial: "10 %",
  }),
});
