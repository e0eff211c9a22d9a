// Package plan holds the cropping problem as pure numbers: which candidate
// planting goes on which strips of which bed, so that the table's year is worth
// most over all weather years, good and bad alike.
//
// It knows weeks, strips, yields, eating tiers, labour and indoor space. It does
// not know vegetables, weather, gardens or files: a caller turns those into a
// Problem and turns the Plan back into jobs.
//
// Read problem.go first (the data), then evaluate.go (what a plan is worth),
// validate.go (what a plan may not do) and solve.go (how a good plan is found).
// Questions about a plan are in question.go, the shortlist of crops in shortlist.go.
//
// # The bound
//
// Duals are prices: of a gram of each crop in stock by week and year, of a minute
// of overtime, of a tray unit, of a family's one turn on a strip; and a weight for
// each year that the risk measure could take. Whatever they are, no plan is worth
// more than the sum of
//
//   - table: over all slots (crop, week, tier, year) the grams it takes times
//     max(0, weight x worth - price), its rent, where prices are first lifted so
//     that price(w) >= Keep x price(w+1);
//   - what standing crops yield, at the prices, and what fixed plantings earn;
//   - the week's minutes and tray units there are, at their prices;
//   - over all strips the best run through time of candidates that may grow there,
//     each earning its pickings at the prices less seed, labour, tray and its
//     family's price; plus the families' prices, one turn each.
//
// This is the Lagrangian of the relaxation over areas: at the best prices it is
// that linear programme's optimum. Keeping each family to one turn exactly, by
// paths that remember families, was tried: it brings less than 0.01 %.
//
// Where a planting costs a setup the relaxation alone would spread it over the
// longest bed and bound far too high. Instead: a planting of n strips, having the
// table to itself, cannot fetch more than V(n) when each slot pays its worth less
// its rent, min(weight x worth, price), for no more grams than it takes. The rent
// is counted in table already, so in any plan the plantings together fetch no more
// than the sum of their V. V is concave with V(0) = 0, for it is a linear
// programme's optimum in n; so (V(n) - setup)/n rises up to some n and then falls,
// and its largest value over the lengths that the candidate's minimum and the beds
// allow bounds what a strip earns, setup paid. That takes the place of the
// pickings' price in the strips' runs. A long planting pays little setup a strip
// but swamps its few weeks; a short one the reverse. See setups.go.
//
// What the relaxation does not see either is that strips are whole and plantings not
// shorter than their least. Each crop's table alone does see it: of all whole numbers of
// strips over the garden, each paying what the ground lets it (its costs and what the
// best run earns in its weeks, which no run then exceeds) and each planting its setup, the
// best gain less than table counts, for a strip too much swamps its weeks, a strip too
// few leaves slots empty, and what fits between pays more than it is worth. A tree proves
// for each crop and span of weeks how much less (whole.go): it splits by the strips of one
// candidate at a time, and bounds every leaf by planes, prices at the margin of some
// harvest (counter.go). A tree for a whole season would have to split every week's strips
// against every other's; spans' trees are small, for what passes from one to the next is
// priced. With trees the bound lies below the linear programme's optimum. splitter.go and
// grove.go grow them.
//
// # A result with its proof
//
// WriteProof adds a member "duals" to the result's JSON: "years", the weights;
// "produce", [crop][week*years+year]; "wage" and "tray" by week; "family",
// [kind of strip][family], the kinds numbered in order of first appearance, bed by
// bed and strip by strip, strips being of a kind if their beds have the same sun
// and kind and they bar the same families and weeks; and "whole", each crop's trees by
// span of weeks, if there are any. Result.Check works everything out anew from it with code of its own
// (the files named audit).
package plan
