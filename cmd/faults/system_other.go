//go:build !unix || solaris || aix

package main

import "errors"

const canRemoveOpen = false

var errNotHere = errors.New("not on this system")

func smallDisk(string, int) (more []string, done func() error, onDisk bool, err error) {
	return nil, nil, false, errNotHere
}

func makeRoom(string) error { return errNotHere }
func setLimit(string) error { return errNotHere }

func tryReadOnly(string, rounds) (outcome, error) {
	return outcome{seen: "rights are lists on this system; not tried", lost: "nothing"}, nil
}
