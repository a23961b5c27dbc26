// Package server is a hub: a NATS server in this process with one stream for one practice.
// The practice's roster says who comes in, and is asked at each connection; there is no
// file of users. Nothing can be deleted through it.
package server
