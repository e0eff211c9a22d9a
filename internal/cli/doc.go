// Package cli is the command line: one file a command. A command reads its
// flags, asks package app, and prints. Every error is one line on stderr and
// exit code 2.
//
// Read run.go first.
package cli
