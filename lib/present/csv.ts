import { stringify } from 'csv-stringify/sync';
import type { RunResult } from '../run.js';

type Cell = string | number | null;

/**
 * The pairings as rows with flat columns, units in their names.
 *
 * @param result the answer of a run.
 * @returns one record per pairing; all records have the same keys.
 */
export function pairingRows(result: RunResult): Record<string, Cell>[] {
  return result.pairings.map((pairing) => {
    const { life, cords, treadLimit, puncture, season, doubts } = pairing;
    const row: Record<string, Cell> = { setup: pairing.setup, mix: pairing.mix };
    for (const [name, summary] of Object.entries({ life, tread_limit: treadLimit, cords })) {
      for (const unit of ['landings', 'hours', 'months'] as const) {
        const figures = summary[unit];
        for (const key of ['p10', 'p50', 'p90', 'mean'] as const)
          row[`${name}_${unit}_${key}`] = figures[key];
        row[`${name}_${unit}_standard_error`] = figures.standardError;
      }
    }
    const risks = {
      flats_per_100_landings: puncture.per100Landings,
      flat_chance_season: puncture.season,
      flat_chance_away_from_help: puncture.awayFromHelp,
    };
    for (const [name, risk] of Object.entries(risks)) {
      row[name] = risk.estimate;
      row[`${name}_mc95_lower`] = risk.lower;
      row[`${name}_mc95_upper`] = risk.upper;
    }
    row['flat_chance_season_worlds_p10'] = puncture.acrossWorlds.p10;
    row['flat_chance_season_worlds_p90'] = puncture.acrossWorlds.p90;
    for (const [cause, share] of Object.entries(pairing.removalCauses))
      row[`removed_${cause}_share`] = share.estimate;
    for (const [cause, share] of Object.entries(pairing.wearShares.byCause)) {
      row[`wear_${cause.replace('-', '_')}_share`] = share.estimate;
    }
    row['life_hours_luck_sd'] = doubts.lifeHours.luck;
    row['life_hours_ignorance_sd'] = doubts.lifeHours.ignorance;
    row['main_tires_fitted_first_season'] = season.mainTiresFitted.estimate;
    row['days_lost_first_season'] = season.daysLost.estimate;
    row['cost_per_flight_hour'] = season.costPerFlightHour?.estimate ?? null;
    return row;
  });
}

/**
 * The pairings as CSV text: a header row first, fields quoted as in RFC 4180, lines ended by a line feed. Nothing stands
 * where a figure is not known.
 *
 * @param result the answer of a run.
 */
export function pairingsCsv(result: RunResult): string {
  // A name that starts like a formula is neutralised, so that a spreadsheet shows it instead of running it.
  return stringify(pairingRows(result), { header: true, escape_formulas: true });
}
