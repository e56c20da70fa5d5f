"""What comes in and goes out: letterings from files, readings in other forms."""
