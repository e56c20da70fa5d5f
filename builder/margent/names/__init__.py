"""Who is meant: names taken apart, inflected, compared and weighed against the makers of an authority."""
