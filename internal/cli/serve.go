package cli

type serveCmd struct {
	Port int `help:"Port of the page on this machine; 0 takes any that is free." default:"0"`
}

// Help gives an example.
func (serveCmd) Help() string {
	return "Example: haulm serve --port 8470\n\nThe first page makes your garden when there is none yet. Nothing leaves this machine."
}

// Run shows the garden in the browser.
func (c serveCmd) Run(s *session) error {
	desk, file, err := s.openDesk(true)
	if err != nil {
		return err
	}
	defer file.Close()
	s.printf("Your garden is kept in %s\n", file.Path())
	return s.serve(desk, c.Port)
}
