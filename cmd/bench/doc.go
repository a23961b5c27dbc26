// Command bench measures loosebox against a floor: a program of three lines on
// the same terminal library, and single puts into the same file library. It
// builds both programs, fills a record with ten thousand visits (-visits), drives them in
// pseudo-terminals and prints its tables in Markdown.
//
//	go run ./cmd/bench
//
// It does not pass or fail: it prints what it measured. RESULTS.md compares that with the targets.
package main
