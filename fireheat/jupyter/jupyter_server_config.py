"""Settings of the JupyterLab server that ``fireheat`` starts.

The folder of this file is put on ``JUPYTER_CONFIG_PATH``; copied into the ``etc/jupyter`` of an
environment with fireheat in it, it serves any JupyterLab there.
"""

from jupyter_server.services.kernels.websocket import KernelWebsocketHandler

from fireheat.launch.lab import EXTENSIONS, page_settings

c = get_config()  # type: ignore[name-defined]  # noqa: F821
c.LabServerApp.extra_labextensions_path.append(str(EXTENSIONS))
c.ServerApp.tornado_settings.update({"page_config_data": page_settings()})

_open = KernelWebsocketHandler.open


async def _open_without_delay(self, kernel_id):
    """Send small messages at once.

    Left alone, the socket holds a small message until the last one is acknowledged, some 40 ms,
    and a slider's picture lags behind the hand.
    """
    self.set_nodelay(True)
    await _open(self, kernel_id)


KernelWebsocketHandler.open = _open_without_delay  # type: ignore[method-assign]
