"""Put the notebooks into a folder of the reader's, and start JupyterLab on it."""
