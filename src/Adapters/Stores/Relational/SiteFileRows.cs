using Farberth.Monitoring.Ports;

namespace Farberth.Adapters.Stores.Relational;

/// <summary>Site files that were in use, as rows.</summary>
static class SiteFileRows
{
    public static void Keep(SqlSession session, SiteFileVersion version)
    {
        if (session.Scalar("SELECT sha256 FROM site_files WHERE site = @site ORDER BY number DESC LIMIT 1") as string != version.Sha256)
            session.Execute(
                "INSERT INTO site_files (site, applied_ms, sha256, text) VALUES (@site, @at, @sha256, @text)",
                ("at", version.AppliedAt.Milliseconds()), ("sha256", version.Sha256), ("text", version.Text));
    }

    public static List<SiteFileVersion> Latest(SqlSession session, int limit) => session.Query(
        $"SELECT text, sha256, applied_ms FROM site_files WHERE site = @site ORDER BY number DESC LIMIT {limit}",
        row => new SiteFileVersion(row.GetString(0), row.GetString(1), row.Time(2)));
}
