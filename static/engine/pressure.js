// What air in a tire does when the weather turns; gauge pressures in kPa, temperatures in degC.

const ZERO = 273.15; // K (SI brochure)
const ATMOSPHERE = 101.325; // kPa at sea level (ICAO standard atmosphere)

// A cold tire's pressure when the air goes from one temperature to another: gas law at constant volume.
/** @param {number} gauge @param {number} from @param {number} to */
export const pressureAt = (gauge, from, to) => (gauge + ATMOSPHERE) * (to + ZERO) / (from + ZERO) - ATMOSPHERE;
