"""A key of the user's own that signs what they send, and what tells a forgery by it: no server.

Ed25519 (RFC 8032). The key lies in the user's own folder and never in one that is shared; where the
machine has no such folder, or no library for it, nothing is signed and all else works.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from collections.abc import Mapping
from pathlib import Path

from divert.core.own_folder import own_folder
from divert.core.safe_files import write_quickly

_KEY = "key"  # 32 bytes, open to nobody else
_KNOWN = "known-keys.json"
_ABOUT = b"divert report\n"  # so that what is signed here is nothing else's signature


def own_key(site_folder: Path) -> bytes | None:
    """Return the user's private key (32 bytes), made if there is none yet; None to do without."""
    folder = own_folder(site_folder)
    if folder is None:
        return None
    try:
        from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    except ImportError:
        return None
    path = folder / _KEY
    try:
        if not path.exists():
            new = Ed25519PrivateKey.generate().private_bytes_raw()
            with contextlib.suppress(FileExistsError):
                handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
                with os.fdopen(handle, "wb") as file:
                    file.write(new)
        data = path.read_bytes()
    except OSError:
        return None
    return data if len(data) == 32 else None


def public_of(key: bytes) -> bytes:
    """Return the public half (32 bytes) of a private key."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    return Ed25519PrivateKey.from_private_bytes(key).public_key().public_bytes_raw()


def fingerprint(public: bytes) -> str:
    """Return what is printed of a public key: 16 hex digits of its SHA-256."""
    return hashlib.sha256(public).hexdigest()[:16]


def signature(key: bytes, seal: str) -> str:
    """Return the signature of a seal, as hex; the same for the same two."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    return Ed25519PrivateKey.from_private_bytes(key).sign(_ABOUT + seal.encode()).hex()


def is_signed(public: bytes, signed: str, seal: str) -> bool:
    """Return whether a signature (hex) of a seal is that of a key; raises ImportError without means."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        Ed25519PublicKey.from_public_bytes(public).verify(
            bytes.fromhex(signed), _ABOUT + seal.encode()
        )
    except (InvalidSignature, ValueError):
        return False
    return True


def known_keys() -> Mapping[str, str]:
    """Return the fingerprints remembered from the first report of each site, by its name."""
    folder = own_folder()
    if folder is None:
        return {}
    try:
        known = json.loads((folder / _KNOWN).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {str(k): str(v) for k, v in known.items()} if isinstance(known, dict) else {}


def remember_key(site: str, print_: str, *, anew: bool = False) -> None:
    """Remember the key of a site's first report; where it cannot be kept, nothing is said.

    ``anew``: it is known to be the site's, so it takes the place of one that only came first.
    """
    folder = own_folder()
    if folder is None or (site in known_keys() and not anew) or known_keys().get(site) == print_:
        return
    with contextlib.suppress(OSError):
        known = json.dumps({**known_keys(), site: print_}, ensure_ascii=False, indent=1)
        write_quickly(folder / _KNOWN, known.encode())
