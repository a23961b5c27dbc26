package main

import (
	"archive/tar"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// tree holds Go source files by their path in the project.
type tree map[string][]byte

// treeOf reads a commit.
func treeOf(rev string) (tree, error) {
	out, err := exec.Command("git", "archive", "--format=tar", rev).Output() //nolint:gosec // a commit that the caller names
	if err != nil {
		return nil, fmt.Errorf("read the commit %s: %w", rev, err)
	}
	t := tree{}
	for r := tar.NewReader(bytes.NewReader(out)); ; {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		if err != nil {
			return nil, fmt.Errorf("read the commit %s: %w", rev, err)
		}
		if !strings.HasSuffix(h.Name, ".go") {
			continue
		}
		if t[h.Name], err = io.ReadAll(r); err != nil {
			return nil, fmt.Errorf("read %s of %s: %w", h.Name, rev, err)
		}
	}
}

// treeHere reads the files that git lists, as they are on the disk.
func treeHere() (tree, error) {
	out, err := exec.Command("git", "ls-files", "*.go").Output()
	if err != nil {
		return nil, fmt.Errorf("list the files: %w", err)
	}
	t := tree{}
	for _, name := range strings.Fields(string(out)) {
		if t[name], err = os.ReadFile(name); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func isTest(name string) bool { return strings.HasSuffix(name, "_test.go") }

// threshold is the size of what is counted as written twice, in nodes of the syntax tree: some six lines.
const threshold = "60"

var counted = regexp.MustCompile(`Found total (\d+) clone groups`)

// clones counts the groups of places outside tests that have the same syntax, names and values apart; false where the
// tool dupl is not on this machine.
func clones(t tree) (int, bool, error) {
	tool, err := exec.LookPath("dupl")
	if err != nil {
		return 0, false, nil //nolint:nilerr // the row is left out
	}
	dir, err := os.MkdirTemp("", "loosebox-size-")
	if err != nil {
		return 0, false, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // a folder in the system's place for such
	for name, text := range t {
		if isTest(name) {
			continue
		}
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			return 0, false, err
		}
		if err := os.WriteFile(file, text, 0o600); err != nil {
			return 0, false, err
		}
	}
	out, err := exec.Command(tool, "-t", threshold, dir).Output() //nolint:gosec // found on the path
	if err != nil {
		return 0, false, fmt.Errorf("dupl: %w", err)
	}
	m := counted.FindSubmatch(out)
	if m == nil {
		return 0, false, fmt.Errorf("dupl said: %s", out)
	}
	n, err := strconv.Atoi(string(m[1]))
	return n, true, err
}

func perTenThousand(n int, t tree) float64 {
	lines := 0
	for name, text := range t {
		if !isTest(name) {
			lines += bytes.Count(text, []byte("\n"))
		}
	}
	return 10_000 * float64(n) / float64(max(lines, 1))
}
