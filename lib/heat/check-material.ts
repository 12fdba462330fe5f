import type { Material, PropertyLaw } from "../materials/material.ts";
import type { Findings } from "./findings.ts";
import type { HeatProblem } from "./problem.ts";

export function checkMaterial(problem: HeatProblem, name: string, f: Findings): void {
  const m = problem.materials[name];
  const path = `materials.${name}`;
  for (const key of ["conductivity", "density", "specificHeat"] as const)
    checkLaw(m[key], `${path}.${key}`, f);
  if (m.cure) checkCure(m.cure, path, f);
}

function checkLaw(law: PropertyLaw, path: string, f: Findings): void {
  if (typeof law === "object") {
    if (law.T.length === 0 || law.T.length !== law.value.length) f.add("table_broken", path);
    for (let i = 1; i < law.T.length; i++)
      if (!(law.T[i] > law.T[i - 1])) f.add("not_rising", `${path}[${i}]`, law.T[i]);
    law.value.forEach((v, i) => {
      f.positive(v, `${path}[${i}]`);
    });
    return;
  }
  // an expression is judged by the temperatures that the problem reaches
  if (typeof law === "number") f.positive(law, path);
}

function checkCure(cure: NonNullable<Material["cure"]>, path: string, f: Findings): void {
  if (!(cure.initial >= 0 && cure.initial <= 1))
    f.add("not_a_share", `${path}.cure.initial`, cure.initial);
  // without heat its cure would not be followed, and stay 0
  if (!(cure.heat > 0 && cure.heat < 1e8)) f.add("not_positive", `${path}.cure.heat`, cure.heat);
}
