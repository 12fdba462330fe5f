import { expect, test } from "vitest";
import { openRealm } from "./zz-realm.ts";
test("leak", async () => {
  const body = `const m = toMaterial(materialNamed("soft plastisol"));
const seen = JSON.stringify(m).slice(0, 200);
let r = "wrote";
try { m.conductivity = 99; } catch (e) { r = e.name; }
let r2 = "wrote";
try { m.specificHeat.value[0] = 7; } catch (e) { r2 = e.name; }
let r3 = "wrote";
try { m.specificHeat.T[0] = 7; } catch (e) { r3 = e.name; }
let r4 = "wrote";
try { materialNamed("soft plastisol").specificHeat.shape.T[0] = 7; } catch (e) { r4 = e.name; }
show.note({ text: seen + r + r2 + r3 + r4, tone: "info" });`;
  const realm = await openRealm("# T\n\n```ts First\n" + body + "\n```\n");
  const a = realm.run(), b = realm.run();
  console.log(a); console.log(b);
  expect(b).toBe(a);
});
