package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"newelbook/jobs/store"
	"newelbook/server"
	"newelbook/views/pack"
)

// serving is how a server is reached.
type serving struct {
	data, listen, public, cert, key string
	proxies                         []string
}

func serveCommand(e env) *cobra.Command {
	var s serving
	c := &cobra.Command{
		Use:   "serve",
		Short: "Serve the pages from a data folder",
		Long: `Serve the pages. The first start prints a one-time address where the builder makes the account; there is no default
password. Without --public-url the server is for this machine alone and makes no links for owners or inspectors.
Stop it with Ctrl-C: a request under way finishes, and so does a pack that is being issued, within half a minute.`,
		Example: `  newelbook serve
  newelbook serve --data /srv/newelbook --listen 0.0.0.0:8443 --public-url https://record.example --cert cert.pem --key key.pem
  newelbook serve --public-url https://record.example --trusted-proxy 127.0.0.1`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := s.check(); err != nil {
				return err
			}
			d, err := openData(c.Context(), e, s.data, true)
			if err != nil {
				return err
			}
			return errors.Join(s.serve(c.Context(), e, d, nil), d.Close())
		},
	}
	dataFlag(c, &s.data)
	c.Flags().StringVar(&s.listen, "listen", "127.0.0.1:8321", "`address` to listen on; anything but this machine needs --public-url")
	c.Flags().StringVar(&s.public, "public-url", "", "`URL` that owners and inspectors reach this server at; links are made with it")
	c.Flags().StringVar(&s.cert, "cert", "", "certificate `file` (PEM), to serve HTTPS")
	c.Flags().StringVar(&s.key, "key", "", "key `file` (PEM) of the certificate")
	c.Flags().StringSliceVar(&s.proxies, "trusted-proxy", nil, "`address` or network of a proxy whose word on the caller's address is taken")
	return c
}

// check refuses settings that would open more than was meant, before anything is made or listened on.
func (s serving) check() error {
	host, _, err := net.SplitHostPort(s.listen)
	if err != nil {
		return fmt.Errorf("--listen must be an address and a port, such as 127.0.0.1:8321: %w", err)
	}
	own := s.public == "" || s.public == ownAddress
	if ip := net.ParseIP(host); own && host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("%s can be reached from other machines: name the address that they use with --public-url, or listen on 127.0.0.1", s.listen)
	}
	if !own {
		u, err := url.Parse(s.public)
		if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" || strings.Trim(u.Path, "/") != "" || u.RawQuery != "" {
			return errors.New("--public-url must be an address such as https://record.example, with no path")
		}
		if name := u.Hostname(); u.Scheme == "http" && name != "localhost" && (net.ParseIP(name) == nil || !net.ParseIP(name).IsLoopback()) {
			return errors.New("--public-url must start with https://: passwords and links would travel in the open")
		}
	}
	if (s.cert == "") != (s.key == "") {
		return errors.New("--cert and --key go together")
	}
	return nil
}

// secrets are the settings of HTTPS, or nil where it is not asked for.
func (s serving) secrets() (*tls.Config, error) {
	if s.cert == "" {
		return nil, nil
	}
	pair, err := tls.LoadX509KeyPair(s.cert, s.key)
	if err != nil {
		return nil, fmt.Errorf("read --cert and --key: %w", err)
	}
	return &tls.Config{MinVersion: tls.VersionTLS12, Certificates: []tls.Certificate{pair}}, nil
}

// stopWithin is how long a request under way may take to finish after the server was told to stop.
const stopWithin = 30 * time.Second

// serve serves until the context ends, then lets requests finish. ready, where given, is called with the address once
// the folder is this server's alone and it listens.
func (s serving) serve(ctx context.Context, e env, d *data, ready func(address string) error) error {
	secrets, err := s.secrets()
	if err != nil {
		return err
	}
	lock, err := store.LockFolder(d.dir)
	if errors.Is(err, store.ErrLocked) {
		return fmt.Errorf("another server is serving %s: stop it first, or name another folder with --data", d.dir)
	} else if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.listen)
	if err != nil {
		return errors.Join(fmt.Errorf("listen on %s: %w", s.listen, err), lock.Unlock())
	}
	address := "http://" + listener.Addr().String()
	if secrets != nil {
		address = "https://" + listener.Addr().String()
	}
	public := strings.TrimSuffix(s.public, "/")
	if public == ownAddress {
		public = address
	}
	desk := pack.NewDesk(*d.packs, func(jobID string, err error) string {
		e.logger().Error("pack was not issued", "job", jobID, "error", err)
		return server.IssueFault(err)
	})
	handler, err := server.New(server.Deps{
		Service: d.service, Media: d.media, Packs: d.packs, Desk: desk, Sessions: d.store.Sessions(), Log: e.logger(), Now: e.now,
		PublicURL: public, Secure: strings.HasPrefix(public, "https://") || s.cert != "", TrustedProxies: s.proxies,
	})
	if err != nil {
		return errors.Join(err, listener.Close(), lock.Unlock())
	}
	site := &http.Server{
		Handler: handler, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, IdleTimeout: 2 * time.Minute, TLSConfig: secrets,
		BaseContext: func(net.Listener) context.Context { return context.WithoutCancel(ctx) },
	}
	if _, err := d.store.Sessions().Sweep(ctx); err != nil {
		e.logger().Warn("sessions that ended long ago were not cleared away", "error", err)
	}
	err = s.welcome(ctx, e, d, address)
	if err == nil && ready != nil {
		err = ready(address)
	}
	if err != nil {
		return errors.Join(err, listener.Close(), lock.Unlock())
	}
	var reading sync.WaitGroup
	defer reading.Wait()
	reads, stopReading := context.WithCancel(ctx)
	defer stopReading()
	reading.Go(func() { // what came in before the last server could read it
		if err := d.service.ReadAllTags(reads, d.media); err != nil && !errors.Is(err, context.Canceled) {
			e.logger().Error("some place tags were not read; they are tried again at the next start", "error", err)
		}
	})
	ended := make(chan error, 1)
	go func() {
		if secrets != nil {
			ended <- site.ServeTLS(listener, "", "")
			return
		}
		ended <- site.Serve(listener)
	}()
	select {
	case err := <-ended:
		return errors.Join(fmt.Errorf("serve: %w", err), lock.Unlock())
	case <-ctx.Done():
	}
	fmt.Fprintln(e.out, "Stopping: requests under way, and packs being issued, finish first.")
	late, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopWithin)
	defer cancel()
	if err = site.Shutdown(late); err != nil {
		err = errors.Join(fmt.Errorf("a request was still under way after %s and was cut off: %w", stopWithin, err), site.Close())
	}
	desk.Close(late)
	if closed := <-ended; !errors.Is(closed, http.ErrServerClosed) {
		err = errors.Join(err, closed)
	}
	return errors.Join(err, lock.Unlock())
}

// ownAddress as the public URL stands for the address that the server listens on: for the demonstration.
const ownAddress = "own"

// welcome prints where to go: the one-time set-up address while there is no account.
func (s serving) welcome(ctx context.Context, e env, d *data, address string) error {
	token, err := d.service.SetupToken(ctx)
	if err != nil {
		return err
	}
	base := address
	if s.public != "" && s.public != ownAddress {
		base = strings.TrimSuffix(s.public, "/")
	}
	fmt.Fprintf(e.out, "Newelbook serves %s at %s\n", filepath.Clean(d.dir), base)
	if token != "" {
		fmt.Fprintf(e.out, "There is no account yet. Make the builder's account at this one-time address:\n  %s/setup/%s\n", base, token)
	}
	if s.public == "" {
		fmt.Fprintln(e.out, "It is for this machine alone and makes no links for owners or inspectors: see --public-url.")
	}
	fmt.Fprintln(e.out, "Stop it with Ctrl-C.")
	return nil
}
