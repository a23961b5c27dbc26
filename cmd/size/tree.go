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

// tree is the Go source of one state of the project by path.
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

// found is how many pairs of places stand twice: to the letter, and by their shape.
type found struct{ same, alike int }

var counted = regexp.MustCompile(`^(\d+) pairs of places .*\((\d+) by shape alone`)

// pairs counts what stands twice outside tests; false where the tool is not on this machine.
func pairs(t tree) (found, bool, error) {
	tool, err := exec.LookPath("duplicates")
	if err != nil {
		return found{}, false, nil //nolint:nilerr // it is said by leaving the row out
	}
	dir, err := os.MkdirTemp("", "loosebox-size-")
	if err != nil {
		return found{}, false, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // a folder in the system's place for such
	for name, text := range t {
		if isTest(name) {
			continue
		}
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			return found{}, false, err
		}
		if err := os.WriteFile(file, text, 0o600); err != nil {
			return found{}, false, err
		}
	}
	out, err := exec.Command(tool, "--repo", dir, "--most", "1", "--seconds", "300").Output() //nolint:gosec // found on the path
	if err != nil {
		return found{}, false, fmt.Errorf("duplicates: %w", err)
	}
	m := counted.FindSubmatch(out)
	if m == nil {
		return found{}, false, fmt.Errorf("duplicates said: %s", out)
	}
	all, _ := strconv.Atoi(string(m[1])) // digits
	alike, _ := strconv.Atoi(string(m[2]))
	return found{same: all - alike, alike: alike}, true, nil
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
