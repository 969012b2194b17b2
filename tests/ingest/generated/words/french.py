"""How crews that write French word their sheets, and the site whose sheets they are."""

from __future__ import annotations

SOURCES = {
    "Cantine de Quillmarsh": ("Cantine de Quillmarsh", "cantine", "la cantine"),
    "Hôtel du Port": ("Hôtel du Port", "hôtel", "HOTEL DU PORT"),
    "Café de la Louche": ("Café de la Louche", "La Louche", "louche"),
    "Fleuriste Pétale": ("Fleuriste Pétale", "fleuriste"),
}
MATERIALS = {
    "restes de cuisine": ("restes de cuisine", "Déchets alimentaires", "biodéchets"),
    "marc de café": ("marc de café", "Marc"),
    "feuilles": ("feuilles", "Feuilles mortes"),
    "fleurs coupées": ("fleurs coupées", "fleurs"),
}
FOOD = "restes de cuisine"
CONTAINERS = {
    "bac": ("bac", "bacs"),
    "seau": ("seau", "seaux"),
    "bac roulant": ("bac roulant", "bacs roulants"),
}
DATE = (
    "Date",
    "Jour",
    "Date de collecte",
    "Quand",
    "Jour de passage",
    "Date du ramassage",
    "Le",
    "Date d'arrivée",
)
SOURCE = (
    "Provenance",
    "Lieu",
    "Cuisine",
    "D'où",
    "Fournisseur",
    "Site",
    "Établissement",
    "Apporté par",
    "Point de collecte",
    "Qui",
)
MATERIAL = ("Matière", "Quoi", "Contenu", "Type de matière", "Nature", "Ce que c'était", "Flux")
NOTE = (
    "Comment c'était",
    "Ce qui s'est passé",
    "Remarques",
    "Observations",
    "Commentaire",
    "Notes",
    "Divers",
    "À savoir",
)
CREW = ("Chauffeur", "Équipe", "Saisi par", "Initiales", "Agent")
OWN_UNITS = ("kg", "kg", "kg")
UNITS = {"kg": 1.0, "kilos": 1.0, "Kg": 1.0, "kilogrammes": 1.0}
VOLUMES = {"m³": 1.0, "m3": 1.0, "litres": 0.001, "L": 0.001, "l": 0.001}
VOLUME = ("Volume ({u})", "{u}", "Volume en {u}", "Combien ({u})", "Quantité ({u})")
BOXES = (("Contenant", "Combien"), ("Type de bac", "Nombre"), ("Récipient", "Qté"))
IN_THE_CELL = ("Quantité", "Poids", "Combien", "Pesée")
UNIT_COLUMN = (["Quantité", "Unité"], ["Qté", "Unité"], ["Combien", "Unité"])
NAMED = ("{m} ({u})", "{u} de {m}", "{m} - {u}")
GUESS = (
    ("Estimation ({u})", "Pesé ({u})"),
    ("À vue ({u})", "Balance ({u})"),
    ("Poids estimé ({u})", "Poids réel ({u})"),
)
FILLS = (("3/4", 0.75), ("plein", 1.0), ("à moitié", 0.5), ("80 %", 0.8))
STREAM_TOTAL = "Total ({u})"
DRESSED = ("{}", "{}", "{} :", "** {} **", "{} (hebdo)", "{} - printemps")
INITIALS = ("RT", "Ana", "JB")
TABS = ("Suivi", "Feuil1", "2025", "Collectes", "données")
SUMMARY = ("Récap", "Bilan", "Totaux par site", "Pour le conseil")
MONTH_FILES = ("{m} 2025", "suivi {m} 2025", "2025-{n:02} collectes")
MONTHS = (
    "janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre",
)  # fmt: skip
WEIGHT = (
    "Poids ({u})", "{u}", "Poids net ({u})", "Poids en {u}", "Combien de {u} ?", "Pesée ({u})", "Quantité ({u})",
    "Lu sur la balance ({u})", "Masse ({u})", "Nb de {u}",
)  # fmt: skip
COUNT = ("{c}", "Nombre de {c}", "Nb {c}", "Combien de {c}", "{c} ramassés", "Nbre de {c}")
FILL = ("Remplissage", "Plein ?", "Niveau", "Taux de remplissage")
SKIDS = (
    "Tout est pesé sur la palette, {n} {u}", "Le diable ({n} {u}) est encore dedans", "Notre caisse fait {n} {u}",
    "La balance montre {n} {u} sans rien dessus",
)  # fmt: skip
METERS = (
    "{m}, {u} à ce jour",
    "{u} jusqu'ici",
    "Depuis janvier ({u})",
    "Cumul {u}",
    "Somme courante ({u})",
)
TWO_SCALES = (
    ("Notre balance ({u})", "Bon du transporteur ({u})"), ("Pesé ici ({u})", "Pesé là-bas ({u})"), ("{u} par nous", "{u} par eux"),
    ("Balance du quai ({u})", "Facture ({u})"),
)  # fmt: skip
QUESTION = (
    "Pour ce passage, quel était le poids total de {m} ramassé à la cuisine, une fois retiré le poids du bac dans lequel "
    "c'était ? Arrondissez au kilo, merci ({u})"
)
NUMBERED = (
    "N° de bon",
    "Bac n°",
    "Ticket",
    "Tournée",
    "Réf.",
    "Camion",
    "N° de pesée",
    "Passage",
    "Benne",
    "Voyage",
    "Tour",
    "Levée",
)
BESIDE = (
    ("Température (°C)", 2, 32), ("Couverts", 80, 600), ("Repas servis", 100, 700), ("Km", 3, 60), ("Humidité %", 40, 80),
    ("Bénévoles", 1, 9), ("Coût (€)", 20, 90), ("Facturé €", 5, 60), ("Nuitées", 80, 400), ("Minutes", 10, 90), ("Compteur km", 40100, 48800), ("Élèves", 20, 300),
)  # fmt: skip
PAIRS = (
    ("Brut ({u})", "Tare ({u})"), ("Plein ({u})", "Vide ({u})"), ("Avec le bac ({u})", "Bac seul ({u})"),
    ("Avant vidage ({u})", "Après vidage ({u})"), ("À l'arrivée ({u})", "Au départ ({u})"), ("1re pesée ({u})", "2e pesée ({u})"),
    ("Camion chargé ({u})", "Camion vide ({u})"), ("Poids de début ({u})", "Poids de fin ({u})"),
)  # fmt: skip
NET = (
    "Net ({u})",
    "Matière seule ({u})",
    "Poids net ({u})",
    "Différence ({u})",
    "Ce qu'on a pris ({u})",
)
COURSES = (
    ("Préparé ({u})", "Servi ({u})", "Gaspillé ({u})"), ("Cuit ({u})", "Mangé ({u})", "Restes ({u})"),
    ("Acheté ({u})", "Utilisé ({u})", "Jeté ({u})"),
    ("Reçu du grossiste ({u})", "Mis en bouquets ({u})", "Chutes ({u})"), ("Sorti du frigo ({u})", "À table ({u})", "Pour le compost ({u})"),
)  # fmt: skip
STREAMS = (
    ("Biodéchets ({u})", "Ordures ({u})", "Recyclage ({u})"), ("Déchets alimentaires ({u})", "Poubelle noire ({u})"),
    ("Biodéchets ({u})", "Ordures ménagères ({u})"), ("Biodéchets ({u})", "Tout-venant ({u})", "Verre ({u})"),
)  # fmt: skip
TOTALS = ("Total", "TOTAL", "Total du mois", "Somme", "En tout", "Totaux", "TOTAL KG", "Ensemble")
ACROSS_TOTAL = ("Total ({u})", "Total", "Total du jour", "Somme ({u})")
CARRIED = (
    "Report",
    "Report de janvier",
    "À nouveau",
    "Solde reporté",
    "Report de la page précédente",
)
CARRIED_OTHERWISE = (
    "Depuis janvier", "De l'ancien cahier", "Jusqu'ici", "Avant ce tableau", "Tas de février", "Début", "Ce qu'on avait",
    "Page d'avant", "Déjà là",
)  # fmt: skip
AGAINST = (
    "annulé",
    "jamais arrivé",
    "erreur de saisie",
    "refusé",
    "doublon",
    "à supprimer",
    "retourné à l'hôtel",
    "test",
)
AGAINST_OTHERWISE = (
    "n'est pas venu", "c'était du gravier", "parti chez le porcher", "resté sur le quai", "même ligne que plus haut",
    "pour l'autre site", "pesée à blanc", "noté aussi mardi", "laissé sur place", "reparti aussitôt", "bac vide en fait",
    "ils l'ont gardé", "à revoir avec Ana", "ne pas prendre", "en attente", "prévu la semaine prochaine", "remplacé par la ligne suivante",
    "pris par la ville", "on est revenus sans rien, la porte était fermée",
    "les poules du voisin ont tout eu avant nous", "en double avec la fiche papier", "c'est le chiffre de la semaine d'avant", "chiffre inventé pour la formation", "va sur la feuille de 2024",
)  # fmt: skip
HARMLESS = (
    "mouillé", "ça sent fort", "après le banquet", "il a plu", "nouvelle équipe", "beaucoup de melon", "tournée courte",
    "couvercle cassé", "deux bénévoles", "menu de fête", "gelé", "très lourd", "un peu de plastique", "passé tard",
)  # fmt: skip
TITLES = (
    "Suivi des biodéchets",
    "Collectes 2025",
    "Cahier de pesée",
    "Nos restes en 2025",
    "Tableau de l'équipe verte",
)
REMARKS = (
    "Balance réglée",
    "Écrire lisiblement svp",
    "Nouveau chauffeur",
    "(page 2)",
    "Semaine de fête",
    "équipe réduite",
    "Pluie",
)
REMARKS_OTHERWISE = (
    "Boucle nord",
    "matin",
    "semaine 2",
    "--- vacances ---",
    "Tournée B",
    "Camion 2",
    "reprise des horaires normaux",
)
FOOTERS = (
    "Des questions ? Voir le bureau.",
    "Poids de la balance au sol.",
    "* = estimé",
    "Imprimé sur papier recyclé",
)
FILES = (
    "suivi 2025", "collectes", "Moins à la poubelle", "Fini les ordures", "Du rebut à la ressource", "Récolte des cantines",
    "Heures de collecte", "Ventes et restes", "Zéro déchet - du rebut au compost", "tableau v3", "Compost 2025 FINAL", "Détournement des ordures 2025",
    "organique", "données", "De la cantine", "printemps",
)  # fmt: skip
UNKNOWN_SOURCES = (
    "Boulangerie Tanneur", "École des Érables", "Résidence du Ruisseau", "Épicerie rue de l'Olivier", "Logement 4B",
    "Salle Saint-Alban", "Foyer des aînés",
)  # fmt: skip
UNKNOWN_MATERIALS = ("okara de soja", "pain rassis", "eau de cuisson", "levain")
