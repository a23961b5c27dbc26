// Command bench measures loosebox against a floor: a program of three lines on
// the same terminal library, and single puts into the same file library. It
// builds both programs, fills a record with ten thousand visits, drives them in
// pseudo-terminals and prints its tables in Markdown.
//
//	go run ./cmd/bench
//
// Nothing here passes or fails: what is printed is what was measured. The targets: start
// under 1.5 times the bare program, key to frame under 1.2 times, a View under 2 ms, a
// stored answer under 1.3 times one raw put, 20 visits read in under 2 ms, press stamps
// within 5 ms (99th percentile).
package main
