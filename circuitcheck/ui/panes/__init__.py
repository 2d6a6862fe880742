"""The panes of the working page. Each owns its actions; the page lays them out and passes keys on."""
