package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"

	"loosebox/exam/notation"
)

// inWords is the text of an error with what the system said of a file put into words:
// "stat a/b: no such file or directory" is of no use to somebody in a barn.
func inWords(err error) string {
	text := err.Error()
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return strings.Replace(text, path.Error(), ofFile(path.Path, path.Err), 1)
	case errors.As(err, &link):
		return strings.Replace(text, link.Error(), ofFile(link.New, link.Err), 1)
	}
	return text
}

// unfinishedName is what a file or folder of the record has behind its name until it is whole.
var unfinishedName = regexp.MustCompile(`\.(new|read|restoring)-\d+`)

// ofFile says why a file or folder could not be used.
func ofFile(name string, why error) string {
	if strings.HasSuffix(name, ".part") {
		name = filepath.Dir(name) // the name that it has until it is whole is nobody's business
	}
	name = notation.CleanLine(unfinishedName.ReplaceAllString(name, ""), 0) // nor is this one
	switch {
	case errors.Is(why, fs.ErrNotExist):
		return name + " is not there"
	case errors.Is(why, fs.ErrExist):
		return name + " is there already"
	case errors.Is(why, syscall.EROFS):
		return name + " is on a disk that may only be read"
	case errors.Is(why, fs.ErrPermission):
		return "the permissions of " + name + " do not allow it"
	case errors.Is(why, syscall.ENOSPC):
		return "the disk of " + name + " is full; make room, then try again"
	case errors.Is(why, syscall.ENOTDIR):
		return name + " is not a folder, or part of its path is a file"
	case errors.Is(why, syscall.EISDIR):
		return name + " is a folder"
	}
	return fmt.Sprintf("%s: %v", name, why)
}
