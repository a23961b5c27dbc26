//go:build !unix || solaris || aix

package storage

import "os"

// unlock does nothing where closing the file, or the end of the program, lets
// go of it.
func unlock(*os.File) {}
