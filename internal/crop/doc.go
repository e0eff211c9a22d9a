// Package crop is the catalogue: crops, cultivar classes, raising routes and
// every figure with its source and grade of trust, read from the tables under
// data.
//
// It knows what is true of a crop anywhere: temperatures, thermal times,
// spacings, yields, keeping, work, dangers. It knows nothing of weather,
// ground, dates of a year or any one garden, and computes no course.
//
// Read crop.go for the words, then catalogue.go for how they are had, then
// schema.go for which facts the tables may hold. Each table has one fact a
// row, its unit in the last part of the fact's name.
package crop
