// Package server is a hub: a NATS server in this process with one stream for one practice. The practice's roster, which is
// checked at each connection, says which laptops are let in; there is no file of users. Nothing can be deleted through it.
package server
