package hub

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"time"

	"loosebox/exam/roster"
)

// ServerName is the name in a hub's certificate. The certificate is pinned, so that the
// hub may have any address.
const ServerName = "loosebox-hub"

// pin believes the given certificates and nothing else. Their address does not matter,
// and a laptop whose clock is wrong is no reason to refuse them.
func pin(text []byte, now func() time.Time) (*tls.Config, []byte, error) {
	pool := x509.NewCertPool()
	var from, to time.Time
	var all []byte
	for block, rest := pem.Decode(text); block != nil; block, rest = pem.Decode(rest) {
		cert, err := x509.ParseCertificate(block.Bytes)
		if err != nil {
			return nil, nil, fmt.Errorf("the hub's certificate cannot be read: %w", err)
		}
		pool.AddCert(cert)
		all = append(all, cert.Raw...)
		if from.Before(cert.NotBefore) {
			from = cert.NotBefore
		}
		if to.IsZero() || cert.NotAfter.Before(to) {
			to = cert.NotAfter
		}
	}
	if all == nil {
		return nil, nil, errors.New("there is no certificate of a hub in it: loosebox-hub writes one as hub.pem")
	}
	within := func() time.Time {
		switch at := now(); {
		case at.Before(from):
			return from
		case at.After(to):
			return to
		default:
			return at
		}
	}
	return &tls.Config{MinVersion: tls.VersionTLS13, RootCAs: pool, ServerName: ServerName, Time: within}, all, nil
}

// Pinned is how a connection to a hub is secured, and the servers to connect to.
func Pinned(at roster.Hub, now func() time.Time) (secure *tls.Config, urls []string, err error) {
	if urls, err = servers(at.Address); err != nil {
		return nil, nil, err
	}
	secure, _, err = pin([]byte(at.Certificate), now)
	return secure, urls, err
}
