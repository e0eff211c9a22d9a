// Package ical writes dated work as an iCalendar file (RFC 5545, with the
// calendar's name by RFC 7986). It knows lines, folding and escaping, and
// nothing of gardens.
//
// Read calendar.go.
package ical
