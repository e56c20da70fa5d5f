"""The vocabulary: where it lies, how its Turtle is read and written, and the model it becomes."""
