// Package heat counts degree-days: how much warmth above a threshold a day
// gave, by the methods of the trade, from the day's lowest and highest
// temperature alone. It knows no crop and no calendar.
//
// Any temperature scale will do as long as all arguments share it; the result
// is in that scale's degree-days. NaN in gives NaN out.
//
// Read curve.go first, then average.go.
package heat
