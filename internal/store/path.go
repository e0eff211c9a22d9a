package store

import (
	"errors"
	"os"
	"path"
	"runtime"
	"strings"
)

// DefaultPath is where the garden file lies unless a person says otherwise:
// haulm/garden.haulm under the system's folder for a user's data.
func DefaultPath() (string, error) {
	home, _ := os.UserHomeDir() // not needed where the system names the folder
	return defaultPath(runtime.GOOS, os.Getenv, home)
}

// defaultPath follows the XDG base directory rules on Unix, %AppData% on
// Windows and ~/Library/Application Support on a Mac.
func defaultPath(goos string, getenv func(string) string, home string) (string, error) {
	lost := errors.New("the system names no folder for your data; say where the garden lies with --garden FILE")
	switch goos {
	case "windows":
		folder := getenv("AppData")
		if folder == "" {
			return "", lost
		}
		return strings.TrimRight(folder, `\/`) + `\haulm\garden.haulm`, nil
	case "darwin":
		if home == "" {
			return "", lost
		}
		return path.Join(home, "Library", "Application Support", "haulm", "garden.haulm"), nil
	}
	// A relative XDG_DATA_HOME is to be ignored by that standard.
	if folder := getenv("XDG_DATA_HOME"); path.IsAbs(folder) {
		return path.Join(folder, "haulm", "garden.haulm"), nil
	}
	if home == "" {
		return "", lost
	}
	return path.Join(home, ".local", "share", "haulm", "garden.haulm"), nil
}
