// Package layers holds no code, only the test that keeps imports running one
// way and the domain packages pure: no files, network, database, log, clock or
// unseeded chance. Read layers_test.go for the table, where a new package is to
// be placed, and check_test.go for how it is kept.
package layers
