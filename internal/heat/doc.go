// Package heat counts degree-days: how much warmth above a threshold a day
// gave. It knows no crop and no calendar.
//
// Any temperature scale will do as long as all arguments share it; the result
// is in that scale's degree-days. NaN in gives NaN out.
//
// Read heat.go.
package heat
