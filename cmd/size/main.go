// Size counts the source: lines, files, functions, packages, what is written twice, and how many files it takes to add
// something. It compares a commit with the tree that is checked out.
//
//	go run ./cmd/size -before e4ef8581 -o cmd/size/RESULTS.md
//
// It reads the files that git lists, and touched.csv beside this file, whose rows were tried by hand in a clean copy.
package main

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

//go:embed touched.csv
var touched string

func main() {
	before := flag.String("before", "e4ef8581", "the commit that stands in the first column")
	out := flag.String("o", "", "the file that is written; standard output without it")
	flag.Parse()
	if err := run(*before, *out); err != nil {
		fmt.Fprintln(os.Stderr, "size:", err)
		os.Exit(1)
	}
}

func run(before, out string) error {
	was, err := treeOf(before)
	if err != nil {
		return err
	}
	is, err := treeHere()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := write(&b, before, was, is); err != nil {
		return err
	}
	if out == "" {
		_, err = os.Stdout.Write(b.Bytes())
		return err
	}
	return os.WriteFile(out, b.Bytes(), 0o644) //nolint:gosec // a page of the project, for everybody
}

// write writes the page: the table, the files touched, and the packages as they are now.
func write(w io.Writer, before string, was, is tree) error {
	old, err := count(was)
	if err != nil {
		return fmt.Errorf("count %s: %w", before, err)
	}
	now, err := count(is)
	if err != nil {
		return err
	}
	p := &page{w: w}
	p.line("# The size of the source\n\nMade by `go run ./cmd/size -before %s -o cmd/size/RESULTS.md`. The first column is that commit, the second", before)
	p.line("the tree that was checked out. Without tests, and with everything that came in between; lines are all lines.\n")
	p.line("| what | before | now |\n|---|---|---|")
	p.line("| lines outside tests | %d | %d |", old.lines, now.lines)
	p.line("| lines of tests | %d | %d |", old.testLines, now.testLines)
	p.line("| files outside tests | %d | %d |", old.files, now.files)
	p.line("| median file, lines | %d | %d |", old.median, now.median)
	p.line("| longest file, lines | %d, %s | %d, %s |", old.longest.lines, old.longest.name, now.longest.lines, now.longest.name)
	p.line("| files over %d lines | %d | %d |", longFile, old.long, now.long)
	p.line("| functions | %d | %d |", old.functions, now.functions)
	p.line("| median function, lines | %d | %d |", old.medianFunction, now.medianFunction)
	p.line("| functions of %d lines or fewer | %s | %s |", longFunction, percent(old.shortFunctions, old.functions), percent(now.shortFunctions, now.functions))
	p.line("| longest function, lines | %d, %s | %d, %s |", old.longestFunction.lines, old.longestFunction.name, now.longestFunction.lines, now.longestFunction.name)
	p.line("| packages | %d | %d |", len(old.packages), len(now.packages))
	p.line("| packages without a first sentence | %d | %d |", old.silent(), now.silent())
	if err := p.repetition(was, is); err != nil {
		return err
	}
	p.line("\n## Files touched to add something\n\nTests and goldens that had to change are counted. What has a day was tried in a clean copy.\n")
	p.line("| what | files before | files now | tried |\n|---|---|---|---|")
	rows, err := csv.NewReader(strings.NewReader(touched)).ReadAll()
	if err != nil {
		return fmt.Errorf("touched.csv: %w", err)
	}
	for _, row := range rows[1:] {
		p.line("| %s |", strings.Join(row, " | "))
	}
	p.line("\n## Packages, each with its first sentence\n\n| package | files | lines | what it is for |\n|---|---|---|---|")
	for _, pack := range now.packages {
		p.line("| %s | %d | %d | %s |", pack.path, pack.files, pack.lines, pack.says)
	}
	return p.err
}

// page writes lines until the first error.
type page struct {
	w   io.Writer
	err error
}

func (p *page) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// repetition writes how much is written twice; it writes nothing where the tool dupl is not installed.
func (p *page) repetition(was, is tree) error {
	old, ok, err := clones(was)
	if err != nil || !ok {
		return err
	}
	now, _, err := clones(is)
	if err != nil {
		return err
	}
	p.line("| groups of places outside tests with the same syntax, counted by `dupl -t %s` (github.com/mibk/dupl) | %d | %d |", threshold, old, now)
	p.line("| the same for each 10,000 lines | %.1f | %.1f |", perTenThousand(old, was), perTenThousand(now, is))
	return nil
}

func percent(n, of int) string { return fmt.Sprintf("%.1f %%", 100*float64(n)/float64(max(of, 1))) }
