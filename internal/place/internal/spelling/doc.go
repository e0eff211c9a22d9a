// Package spelling folds a place's name to the plain form in which names are
// compared: small letters a to z and digits, one space between words, without
// accents, hyphens or points, and with "St.", "Sankt" and "Saint" made one.
//
// It knows the Latin script with its accents. Letters of other scripts pass
// through in lower case, so they match only themselves. Read fold.go first;
// latin.go is its table. Distance (distance.go) counts typing errors.
package spelling
