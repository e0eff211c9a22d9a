// Package fetch gets weather over the network, and only when a person asks for
// it: daily records and the lists of stations of NOAA's National Centers for
// Environmental Information (NCEI), and the forecast of MET Norway.
//
// It knows how to ask politely: it says who it is, keeps what it was given,
// does not ask again before the answer can have changed, takes up a broken
// download where it stopped, waits as long as a service asks it to, and bounds
// what it takes in. It does not know what weather means: packages readings and
// forecast read what came. It asks nothing by itself, in the background or on a
// timer.
//
// Read client.go first, then download.go (files), ncei.go (records) and
// forecast.go (the forecast and its terms).
package fetch
