package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/roster"
	"loosebox/storage"
)

// The files by which a laptop comes into a practice have the laptop's name, so that several
// can ask by one stick.
const (
	requestEnd = ".request"
	answerEnd  = ".answer"
)

// newFile is a file that is not there yet: where names it, or is the folder for a file of the
// laptop's name.
func newFile(where, laptop, end string) string {
	if info, err := os.Stat(where); err != nil || !info.IsDir() {
		return where
	}
	return unused(filepath.Join(where, plainName(laptop)), end)
}

// answerTo is the new file of the answer to a request, beside it.
func answerTo(request string) string {
	return unused(strings.TrimSuffix(request, requestEnd), answerEnd)
}

// unused is a name with an end that no file has.
func unused(base, end string) string {
	name := base + end
	for n := 2; n < 100; n++ {
		if _, err := os.Lstat(name); err != nil {
			break
		}
		name = fmt.Sprintf("%s-%d%s", base, n, end)
	}
	return name
}

// plainName is a laptop's name as every file system takes it.
func plainName(name string) string {
	plain := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, strings.ToLower(name))
	if plain = strings.Trim(plain, "-"); plain == "" {
		return "laptop"
	}
	return plain
}

// seeing are the sticks that are in sight.
type seeing []string

// files lists the files of an end that lie on the sticks, those that count.
func (s seeing) files(end string, counts func(file string) bool) (out []string) {
	for _, stick := range s {
		list, _ := os.ReadDir(stick) // a stick that was pulled out has none
		for _, e := range list {
			if name := filepath.Join(stick, e.Name()); strings.HasSuffix(name, end) && counts(name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// waiting lists the requests on the sticks of laptops that are not in the practice.
func (s seeing) waiting(have roster.Roster) []string {
	return s.files(requestEnd, func(name string) bool {
		q, err := readRequest(name)
		return err == nil && have.Membership(q.Key) != roster.In
	})
}

// answered lists the answers on the sticks that let this laptop in.
func (s seeing) answered(r *storage.Record) []string {
	return s.files(answerEnd, func(name string) bool {
		_, err := readAnswer(r, name)
		return err == nil
	})
}

// proposed is a file or folder on the one stick that has it, or on the only stick; empty
// where it may be any of several.
func (s seeing) proposed(name string) string {
	var there []string
	for _, stick := range s {
		file := filepath.Join(stick, name)
		if _, err := os.Stat(file); err == nil || len(s) == 1 {
			there = append(there, file)
		}
	}
	return theOne(there)
}

// named are the files of a name that are there.
func (s seeing) named(name string) (out []string) {
	for _, stick := range s {
		file := filepath.Join(stick, name)
		if info, err := os.Stat(file); stick != "" && err == nil && info.Mode().IsRegular() {
			out = append(out, file)
		}
	}
	return out
}

// hint says which sticks there are.
func (s seeing) hint() string { return seenHere(s) }

// theOne is the file that is proposed: the only one.
func theOne(list []string) string {
	if len(list) == 1 {
		return list[0]
	}
	return ""
}

// seenHere says behind a hint what there is.
func seenHere(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return ". Seen here: " + notation.CleanLine(strings.Join(list, ", "), 200)
}

// keyName is what the file of a practice's key is called where nobody calls it otherwise.
const keyName = "practice.key"

// keyFile is the file of the practice's key where it is in sight, in the person's own folder
// or on a stick; empty where it is in none, or may be any of several.
func (p sharePage) keyFile(see seeing) string {
	return theOne(append(seeing{p.home}, see...).named(keyName))
}

// folderName is the folder that the page proposes on a stick, and makes there.
const folderName = "loosebox"

// makeFolder makes the proposed folder on a stick that is there; no other folder is made.
func makeFolder(dir string) error {
	if filepath.Base(dir) != folderName {
		return nil
	}
	err := os.Mkdir(dir, 0o777)
	if err == nil || errors.Is(err, fs.ErrExist) || errors.Is(err, fs.ErrNotExist) {
		return nil // the exchange says what is missing
	}
	return err
}

// sticks are the places where this system shows sticks, as far as they are there.
func sticks() []string {
	patterns := []string{"/media/*/*", "/run/media/*/*"}
	switch runtime.GOOS {
	case "darwin":
		patterns = []string{"/Volumes/*"}
	case "windows":
		patterns = []string{`D:\`, `E:\`, `F:\`, `G:\`}
	}
	var out []string
	for _, pattern := range patterns {
		list, _ := filepath.Glob(pattern) // the patterns are constants
		for _, name := range list {
			if info, err := os.Stat(name); err == nil && info.IsDir() {
				out = append(out, name)
			}
		}
	}
	return out
}
