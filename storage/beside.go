package storage

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"time"

	"loosebox/storage/outside"
)

// One run holds the record's file for hours: the screens are open. Others read it all the
// same, as it is at one moment, from a copy of their own. While a copy is made the run
// that holds the file keeps a read transaction open, so that no page of that moment is
// written over; it hands out the pages with which the file begins then.
//
// The two meet at a port of this machine's own network (127.0.0.1), which every system
// has. Who may ask is who can read OpenName: a word that only the owner can read.

// OpenName is the file beside the record that says where the run that holds it is asked
// for its state.
const OpenName = "record.open"

// answerWithin is how long the run that holds the record is waited for until it answers. The
// file of a run that was killed stays, and its port may be another program's by now, which
// never does.
var answerWithin = 10 * time.Second

// openAt is what OpenName holds.
type openAt struct {
	Address string `json:"address"`
	Word    string `json:"word"`
}

// errNoHost says that no run answers for the record.
var errNoHost = errors.New("nobody answers for the record")

// openBeside opens a copy of a record that another run holds.
func openBeside(dir string, o Options) (*Record, error) {
	data, err := outside.ReadFile(filepath.Join(dir, OpenName), 4<<10)
	if err != nil {
		return nil, errors.Join(errNoHost, err)
	}
	var at openAt
	if err := json.Unmarshal(data, &at); err != nil {
		return nil, errors.Join(errNoHost, err)
	}
	address, err := net.ResolveTCPAddr("tcp", at.Address)
	if err != nil || !address.IP.IsLoopback() {
		return nil, errors.Join(errNoHost, err)
	}
	conn, err := net.DialTimeout("tcp", address.String(), time.Second)
	if err != nil {
		return nil, errors.Join(errNoHost, err)
	}
	defer conn.Close() //nolint:errcheck // nothing is kept by it
	path := filepath.Join(dir, FileName)
	copied, err := copyHeld(conn, at.Word, dir, path)
	if err != nil {
		return nil, err
	}
	o.ReadOnly = true
	r, err := open(copied, o)
	if err != nil {
		return nil, errors.Join(err, os.Remove(copied))
	}
	r.path, r.copied = path, copied
	if os.Remove(copied) == nil {
		r.copied = "" // it is gone with the end of this run, however that ends
	}
	return r, nil
}

// copyHeld copies the file while its holder keeps one moment of it, and returns the copy.
func copyHeld(conn net.Conn, word, dir, path string) (copied string, err error) {
	patience := time.AfterFunc(answerWithin, func() { _ = conn.Close() })
	defer patience.Stop()
	if _, err := io.WriteString(conn, word); err != nil {
		return "", errors.Join(errNoHost, err)
	}
	var answer [12]byte
	if _, err := io.ReadFull(conn, answer[:]); err != nil {
		return "", errors.Join(errNoHost, err)
	}
	size, n := int64(binary.BigEndian.Uint64(answer[:])), binary.BigEndian.Uint32(answer[8:])
	if size <= int64(n) || n == 0 || n > 1<<20 {
		return "", errNoHost
	}
	head := make([]byte, n)
	if _, err := io.ReadFull(conn, head); err != nil {
		return "", errors.Join(errNoHost, err)
	}
	patience.Reset(holdFor)
	from, err := os.Open(path)
	if err != nil {
		return "", fmt.Errorf("copy the record to read it: %w", err)
	}
	defer from.Close() //nolint:errcheck // read only
	to, err := os.CreateTemp(dir, FileName+".read-*")
	if err != nil {
		return "", fmt.Errorf("copy the record to read it: %w", err)
	}
	defer func() {
		err = errors.Join(err, to.Close())
		if err != nil {
			copied, err = "", errors.Join(fmt.Errorf("copy the record to read it: %w", err), os.Remove(to.Name()))
		}
	}()
	if _, err := io.CopyN(to, from, size); errors.Is(err, io.EOF) {
		return "", errors.Join(errNoHost, err) // whoever answered does not hold this file
	} else if err != nil {
		return "", err
	}
	if _, err := to.WriteAt(head, 0); err != nil {
		return "", err
	}
	if _, err := conn.Write([]byte{1}); err != nil {
		return "", errors.Join(errNoHost, err)
	}
	if _, err := io.ReadFull(conn, answer[:1]); err != nil {
		return "", errors.Join(errNoHost, err) // its holder went meanwhile
	}
	return to.Name(), nil
}
