"""Settings of a class server; the copy beside the folder `workbook` counts.

After a change restart the hub.
"""

import grp
import ipaddress
from pathlib import Path

# ---- yours to edit ------------------------------------------------------------------
ADDRESS = "127.0.0.1"  # this machine only; the machine's own address lets the classroom in
PORT = 8000  # the next two numbers are used too, on this machine only
KEY = ""  # the certificate's key and the certificate, from the school's IT people
CERTIFICATE = ""
WITHOUT_TLS = False  # True: passwords cross the network readable
MEMORY_MB = 2000  # the most one process of a student may take
IDLE_HOURS = 2  # a notebook nobody has used for so long is stopped
# -------------------------------------------------------------------------------------

PLACE = Path(__file__).resolve().parent
TOOLS = PLACE / "workbook" / ".venv" / "bin"
STUDENTS, DESK = f"{PLACE.name}-class", f"{PLACE.name}-desk"
IDLE_S = int(IDLE_HOURS * 3600)

if not ipaddress.ip_address(ADDRESS).is_loopback and not (KEY and CERTIFICATE) and not WITHOUT_TLS:
    raise SystemExit(
        f"ADDRESS {ADDRESS} lets others in, and there is no KEY and CERTIFICATE: "
        "passwords would cross the "
        "network readable. Give both, or write WITHOUT_TLS = True if something else encrypts."
    )

c = get_config()  # type: ignore[name-defined]  # noqa: F821 - the hub gives it
c.JupyterHub.bind_url = (
    f"{'https' if CERTIFICATE else 'http'}://{f'[{ADDRESS}]' if ':' in ADDRESS else ADDRESS}:{PORT}"
)
c.JupyterHub.ssl_key, c.JupyterHub.ssl_cert = KEY, CERTIFICATE
c.JupyterHub.hub_ip, c.JupyterHub.hub_port = "127.0.0.1", PORT + 1
c.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{PORT + 2}"
c.ConfigurableHTTPProxy.command = [
    str(PLACE / "proxy" / "node_modules" / ".bin" / "configurable-http-proxy")
]
c.ConfigurableHTTPProxy.pid_file = str(PLACE / "hub" / "proxy.pid")
c.JupyterHub.db_url = f"sqlite:///{PLACE / 'hub' / 'hub.sqlite'}"
c.JupyterHub.cookie_secret_file = str(PLACE / "hub" / "cookie_secret")

# Who may come in: the system's own accounts, of these two groups.
c.JupyterHub.authenticator_class = "pam"
c.PAMAuthenticator.allowed_groups = {STUDENTS, DESK}
c.Authenticator.delete_invalid_users = True
# An instructor sees who is there and starts and stops servers. Nobody may open another's server:
# that is why this is no admin user, who may.
c.JupyterHub.load_roles = [
    {
        "name": "desk",
        "scopes": ["admin-ui", "list:users", "read:users", "servers"],
        "users": list(grp.getgrnam(DESK).gr_mem),
    }
]

# Each server runs as its own system user.
c.JupyterHub.spawner_class = "jupyterhub.spawner.LocalProcessSpawner"
c.Spawner.cmd = [
    str(TOOLS / "python"),
    str(PLACE / "workbook" / "src" / "classserver" / "open_server.py"),
]
c.Spawner.notebook_dir = "~/workbook"
c.Spawner.default_url = "/lab/tree/notebooks/00_start_here.ipynb"
c.Spawner.environment = {
    "JUPYTER_CONFIG_PATH": str(PLACE / "workbook" / "src" / "labsettings"),
    "CLASS_SERVER_MEMORY_MB": str(MEMORY_MB),
    "PYTHONNOUSERSITE": "1",
}
c.Spawner.args = [
    # Over TCP any account of the machine could listen to what a kernel says.
    "--KernelManager.transport=ipc",
    f"--MappingKernelManager.cull_idle_timeout={IDLE_S}",
    "--MappingKernelManager.cull_connected=True",
    f"--ServerApp.shutdown_no_activity_timeout={IDLE_S}",
]
c.Spawner.start_timeout = c.Spawner.http_timeout = 180  # thirty at once on a small machine
