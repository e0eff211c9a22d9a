// Package cli is the command line: one file a command. A command reads its
// flags, asks package app, and prints. Every error is one line on stderr and
// exit code 2.
//
// Read run.go first, then given.go: how what is given is read, and what is
// answered where it cannot be.
package cli
