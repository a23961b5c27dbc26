package storage

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"sync"
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

// holdFor is how long a copy may take.
const holdFor = 10 * time.Minute

// mostReaders is how many copies are made at once.
const mostReaders = 8

// openAt is what OpenName holds.
type openAt struct {
	Address string `json:"address"`
	Word    string `json:"word"`
}

// host answers those who want to read.
type host struct {
	listener net.Listener
	word     []byte
	name     string // of the file that says where
	places   chan struct{}
	mu       sync.Mutex
	over     bool
	conns    map[net.Conn]bool
	done     sync.WaitGroup
}

// Host lets other runs of this user read the record as it is (Options.Beside) until it is
// closed. Without it they wait for the file and are told that it is in use.
func (r *Record) Host() error {
	if r.readOnly || r.host != nil {
		return nil
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return fmt.Errorf("other commands cannot read the record while it is open: %w", err)
	}
	var word [32]byte
	if _, err := rand.Read(word[:]); err != nil {
		return errors.Join(fmt.Errorf("other commands cannot read the record while it is open: %w", err), l.Close())
	}
	h := &host{
		listener: l, word: []byte(hex.EncodeToString(word[:])), name: filepath.Join(filepath.Dir(r.path), OpenName),
		places: make(chan struct{}, mostReaders), conns: map[net.Conn]bool{},
	}
	data, err := json.Marshal(openAt{l.Addr().String(), string(h.word)})
	var temp string
	if err == nil {
		temp, err = writeTemp(filepath.Dir(r.path), OpenName, data, false) // it says nothing once this run is over
	}
	if err == nil {
		err = os.Rename(temp, h.name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("other commands cannot read the record while it is open: %w", err), l.Close())
	}
	r.host = h
	h.done.Add(1)
	go h.serve(r)
	return nil
}

func (h *host) serve(r *Record) {
	defer h.done.Done()
	for {
		conn, err := h.listener.Accept()
		if err != nil {
			return // closed
		}
		if !h.begin(conn) {
			_ = conn.Close() // too many, or the record is being closed
			continue
		}
		go func() {
			defer h.end(conn)
			_ = h.hold(r, conn) // who asked knows by the end of the line
		}()
	}
}

func (h *host) begin(conn net.Conn) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	select {
	case h.places <- struct{}{}:
	default:
		return false
	}
	if h.over {
		<-h.places
		return false
	}
	h.conns[conn] = true
	h.done.Add(1)
	return true
}

func (h *host) end(conn net.Conn) {
	_ = conn.Close()
	h.mu.Lock()
	delete(h.conns, conn)
	h.mu.Unlock()
	<-h.places
	h.done.Done()
}

// hold keeps one moment of the record for one who asks: it says how the file begins at
// that moment and how long it is, waits for the copy, and says that the moment was kept.
func (h *host) hold(r *Record, conn net.Conn) error {
	defer time.AfterFunc(holdFor, func() { _ = conn.Close() }).Stop()
	word := make([]byte, len(h.word))
	if _, err := io.ReadFull(conn, word); err != nil || subtle.ConstantTimeCompare(word, h.word) != 1 {
		return errors.Join(err, errNotMine)
	}
	return r.view(func(tx txn) error {
		head := beginning{most: 2 * r.db.Info().PageSize}
		if _, err := tx.WriteTo(&head); err != nil && len(head.data) != head.most {
			return fmt.Errorf("copy the record: %w", err)
		}
		answer := binary.BigEndian.AppendUint64(nil, uint64(tx.Size()))
		answer = binary.BigEndian.AppendUint32(answer, uint32(len(head.data)))
		if _, err := conn.Write(append(answer, head.data...)); err != nil {
			return err
		}
		if _, err := io.ReadFull(conn, make([]byte, 1)); err != nil {
			return err
		}
		_, err := conn.Write([]byte{1})
		return err
	})
}

var errNotMine = errors.New("somebody without the word asked")

// beginning takes the first pages that are written to it and refuses the rest.
type beginning struct {
	data []byte
	most int
}

func (b *beginning) Write(p []byte) (int, error) {
	if len(b.data)+len(p) > b.most {
		return 0, errEnough
	}
	b.data = append(b.data, p...)
	return len(p), nil
}

// close ends every reader's moment and stops answering.
func (h *host) close() {
	h.mu.Lock()
	h.over = true
	for conn := range h.conns {
		_ = conn.Close()
	}
	h.mu.Unlock()
	_ = h.listener.Close()
	_ = os.Remove(h.name) // the next run writes its own
	h.done.Wait()
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
	defer time.AfterFunc(holdFor, func() { _ = conn.Close() }).Stop()
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
	if _, err := io.CopyN(to, from, size); err != nil {
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
