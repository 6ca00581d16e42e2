"""What leaves the laptop: pages that need neither Python nor a network, and sheets of paper."""
