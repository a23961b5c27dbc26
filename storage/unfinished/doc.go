// Package unfinished keeps files and folders that are being made apart from those
// that are whole. A file is written under a temporary name beside its own, synced,
// and renamed when every byte is there; it never replaces another. What a killed
// program leaves is removed by the next one, and nothing else ever is.
//
// A file or folder that is being made is locked, so that a second program does not
// take it for something that was left. Where there are no such locks (Windows), an
// open file cannot be removed.
package unfinished
